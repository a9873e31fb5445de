"""What pages would be sent, kept for later: `recorder` keeps it, `one_file` makes one page of it that needs no program."""
