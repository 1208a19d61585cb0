"""Words typed at a terminal to the verbs of use: commands, exit codes and tables."""
