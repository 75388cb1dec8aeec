"""The week of the shop: its lanes, its plan made in the background, what if."""
