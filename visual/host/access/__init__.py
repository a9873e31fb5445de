"""Who is let in: `doors` by name, word and cookie, `admission` by where a page comes from and how many there are, `connections` by how
many may wait."""
