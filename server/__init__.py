"""Handline: the whole job of an outside-broadcast crew, on phones with no signal."""
