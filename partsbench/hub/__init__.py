"""The shop's own small server: phones and tablets as benches in the hand, on the shop's network.

Loaded only when it is switched on; its parts (`starlette`, `uvicorn`, `cryptography`) come with
`pip install '.[hub]'`. Only a paired device is answered.
One thread has the book.
"""
