"""The bench machine: what each scan, key and wait does. Pure, and one for all pages."""
