"""What the Layout page is made of: the board with the front, and a panel for each kind of work."""
