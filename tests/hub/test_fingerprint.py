"""The hub's own certificate, and how its fingerprint is told."""

from __future__ import annotations

import hashlib
import ssl
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from partsbench.hub.certificate import certificate, tls
from partsbench.hub.fingerprint import fingerprint, spoken

NOW = datetime.now(UTC)


@pytest.mark.parametrize(("address", "words"), [("7F000001", "lusab babad"),
                                                ("3F54DCC1", "gutih tugad"),
                                                ("3F760723", "gutuk bisog")])  # fmt: skip
def test_words_are_as_they_are_published(address: str, words: str) -> None:
    """Examples of arXiv:0901.4016: 127.0.0.1, 63.84.220.193, 63.118.7.35."""
    assert spoken(address + "0" * 24).split()[:2] == words.split()


def test_the_fingerprint_is_that_of_the_certificate(tmp_path: Path) -> None:
    made = certificate(tmp_path / "hub.pem", "192.168.7.5", NOW)
    der = ssl.PEM_cert_to_DER_cert(_certificate_of(made.file))
    assert made.hexed == fingerprint(der)
    assert made.hexed.replace(":", "").lower() == hashlib.sha256(der).hexdigest()
    assert made.file.stat().st_mode & 0o777 == 0o600
    assert len(made.words.split()) == 8
    tls(made)


def test_it_is_kept_until_it_ends_or_the_address_is_another(tmp_path: Path) -> None:
    file = tmp_path / "hub.pem"
    first = certificate(file, "192.168.7.5", NOW)
    assert certificate(file, "192.168.7.5", NOW).hexed == first.hexed
    assert certificate(file, "192.168.7.6", NOW).hexed != first.hexed
    second = certificate(file, "192.168.7.6", NOW)
    later = NOW + timedelta(days=380)
    assert certificate(file, "192.168.7.6", later - timedelta(days=10)).hexed == second.hexed
    assert certificate(file, "192.168.7.6", later + timedelta(days=10)).hexed != second.hexed
    file.write_text("no certificate", encoding="utf-8")
    assert certificate(file, "192.168.7.6", NOW).hexed != second.hexed


def _certificate_of(file: Path) -> str:
    text = file.read_text(encoding="utf-8")
    return text[text.index("-----BEGIN CERTIFICATE") :]
