"""Work in child processes, with limits of memory and time: typesetting, and reading of foreign bytes."""
