"""Printed pages: the pack's book, labels, installation and hand-over record."""
