"""The board of the shop: a card for each piece in hand."""
