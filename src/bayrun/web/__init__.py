"""HTTP and the page: the verbs of ``jobs`` over a store, for a browser on this computer."""
