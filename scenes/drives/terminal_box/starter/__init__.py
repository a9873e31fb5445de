"""The same motor on a star-delta starter: its links out, six leads to three contactors and a timer."""
