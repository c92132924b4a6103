"""Records while they are being written: what an editor asks of them, and a language server that answers."""
