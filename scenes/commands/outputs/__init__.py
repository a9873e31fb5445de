"""The commands that write a file to keep: a picture, a worksheet, a lesson to print or to take home."""
