"""The bench in the browser: one port, one loop, no threads.

`server` runs the bench and updates the pages, `pages` and `sockets` answer the browsers, `endpoints` says what a page may do,
`access` decides who is let in, `viewers` keeps track of what each open page has still to be sent, `messages` lists everything that
page and program send each other, `encoding` reads and writes it, `bridge` holds all knowledge of VPython's private names,
`recorded` keeps a lesson for a page that has no program.
"""
