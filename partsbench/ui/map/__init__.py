"""The progress map: how far every part of a piece is, small beside a page and large."""
