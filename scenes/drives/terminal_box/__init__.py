"""The terminal box: six studs, three links, three leads, joined in any way."""
