"""A certificate's fingerprint, as hex and as words that can be read aloud."""

from __future__ import annotations

import hashlib

_CONSONANTS, _VOWELS = "bdfghjklmnprstvz", "aiou"
WORDS = 8
"""128 bits of the fingerprint: nobody makes another certificate with the same (2^128 tries)."""


def fingerprint(certificate: bytes) -> str:
    """`3A:91:…`, SHA-256 over the certificate in DER form, as browsers show it."""
    return hashlib.sha256(certificate).digest().hex(":").upper()


def spoken(hexed: str) -> str:
    """The first 128 bits of a fingerprint as eight words: consonant, vowel, consonant, vowel,
    consonant for each 16 bits (proquints: D. S. Wilkerson, arXiv:0901.4016, from memory)."""
    data = bytes.fromhex(hexed.replace(":", ""))
    pairs = [int.from_bytes(data[i : i + 2], "big") for i in range(0, 2 * WORDS, 2)]
    return " ".join(map(_word, pairs))


def _word(value: int) -> str:
    return (
        _CONSONANTS[value >> 12]
        + _VOWELS[value >> 10 & 3]
        + _CONSONANTS[value >> 6 & 15]
        + _VOWELS[value >> 4 & 3]
        + _CONSONANTS[value & 15]
    )
