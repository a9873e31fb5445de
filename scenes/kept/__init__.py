"""Files of lines that are only ever added to: answers, marks, votes."""
