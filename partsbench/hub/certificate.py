"""The hub's own certificate: made here, kept beside the book, known by its fingerprint.

It keeps what is sent from being read or changed on the way. It does not prove to a phone that it
speaks to this computer: only somebody who compares the fingerprint knows that.
"""

from __future__ import annotations

import ipaddress
import os
import ssl
from dataclasses import dataclass
from datetime import datetime, timedelta
from pathlib import Path

from partsbench.hub.fingerprint import fingerprint, spoken

LASTS = timedelta(days=397)
"""Browsers take no certificate that lasts longer than 398 days (CA/Browser Forum, Baseline
Requirements 6.3.2, from memory)."""
RENEWED = timedelta(days=14)
NAME = "partsbench hub"


@dataclass(frozen=True, slots=True)
class Certificate:
    """Where it lies, with its key in the same file, and its fingerprint."""

    file: Path
    hexed: str

    @property
    def words(self) -> str:
        return spoken(self.hexed)


def certificate(file: Path, host: str, now: datetime) -> Certificate:
    """The certificate for that address; a new one where there is none, or it ends soon.

    OSError when it cannot be written.
    """
    kept = _kept(file, host, now)
    if kept is None:
        kept = _make(file, host, now)
    return Certificate(file, fingerprint(kept))


def _kept(file: Path, host: str, now: datetime) -> bytes | None:
    """What lies there, in DER form, if it still serves."""
    from cryptography import x509
    from cryptography.hazmat.primitives.serialization import Encoding, load_pem_private_key

    try:
        text = file.read_bytes()
        found = x509.load_pem_x509_certificate(text)
        key = load_pem_private_key(text, None)
        names = found.extensions.get_extension_for_class(x509.SubjectAlternativeName).value
        mine = key.public_key() == found.public_key()
    except (OSError, ValueError, TypeError, x509.ExtensionNotFound):
        return None
    addresses = {str(a) for a in names.get_values_for_type(x509.IPAddress)}
    if not mine or host not in addresses or found.not_valid_after_utc - now < RENEWED:
        return None
    return found.public_bytes(Encoding.DER) if found.not_valid_before_utc <= now else None


def _make(file: Path, host: str, now: datetime) -> bytes:
    from cryptography import x509
    from cryptography.hazmat.primitives import hashes, serialization
    from cryptography.hazmat.primitives.asymmetric import ec
    from cryptography.x509.oid import ExtendedKeyUsageOID, NameOID

    key = ec.generate_private_key(ec.SECP256R1())
    name = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, NAME)])
    addresses = dict.fromkeys((host, "127.0.0.1"))
    made = (
        x509.CertificateBuilder()
        .subject_name(name)
        .issuer_name(name)
        .public_key(key.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(now - timedelta(days=1))
        .not_valid_after(now - timedelta(days=1) + LASTS)
        .add_extension(
            x509.SubjectAlternativeName(
                [x509.IPAddress(ipaddress.ip_address(a)) for a in addresses]
                + [x509.DNSName("localhost")]
            ),
            critical=False,
        )
        .add_extension(x509.BasicConstraints(ca=False, path_length=None), critical=True)
        .add_extension(x509.ExtendedKeyUsage([ExtendedKeyUsageOID.SERVER_AUTH]), critical=False)
        .sign(key, hashes.SHA256())
    )
    text = key.private_bytes(
        serialization.Encoding.PEM,
        serialization.PrivateFormat.PKCS8,
        serialization.NoEncryption(),
    ) + made.public_bytes(serialization.Encoding.PEM)
    _write_own(file, text)
    return made.public_bytes(serialization.Encoding.DER)


def _write_own(file: Path, text: bytes) -> None:
    """Readable by its owner only from the first byte on, and whole under its name."""
    draft = file.with_name(f"{file.name}.new")
    draft.unlink(missing_ok=True)
    with os.fdopen(os.open(draft, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o600), "wb") as opened:
        opened.write(text)
    draft.replace(file)


def tls(made: Certificate) -> ssl.SSLContext:
    """TLS 1.2 or newer with that certificate."""
    context = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    context.minimum_version = ssl.TLSVersion.TLSv1_2
    context.load_cert_chain(made.file)
    return context
