"""TLS for who wants it: a small authority of the shop's own, and the bench's certificate.

The authority is made once and may vouch for nothing but this machine's names and private
networks, so that a device that trusts it is not exposed by its loss.  Its key lies in
``keys/`` and is never served; its certificate is what the pairing page offers.
"""

from __future__ import annotations

import ipaddress
from collections.abc import Callable, Iterable
from datetime import UTC, datetime, timedelta
from pathlib import Path

from cryptography import x509
from cryptography.exceptions import InvalidSignature, UnsupportedAlgorithm
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.x509.oid import ExtendedKeyUsageOID, NameOID

from sleevewright.errors import SleevewrightError
from sleevewright.services.keys import keys_folder, write_secret

ROOT, ROOT_KEY = "root.crt", "root.key"
LEAF, LEAF_KEY = "bench.crt", "bench.key"
ROOT_LIFE = timedelta(days=3650)
LEAF_LIFE = timedelta(days=397)
"""As long as browsers take a certificate (398 days; from memory)."""
RENEWED_BEFORE = timedelta(days=30)
SLACK = timedelta(days=1)
"""A device whose clock is behind must still take what was made just now."""

PRIVATE = (
    "127.0.0.0/8", "10.0.0.0/8", "172.16.0.0/12", "192.168.0.0/16", "169.254.0.0/16",
    "::1/128", "fc00::/7", "fe80::/10",
)  # fmt: skip
"""Networks that the authority may vouch for: those that nobody owns."""

Clock = Callable[[], datetime]


def _now() -> datetime:
    return datetime.now(UTC)


def tls_files(folder: Path, names: Iterable[str], *, clock: Clock = _now) -> tuple[Path, Path]:
    """Certificate and key to serve with, made anew where they are old or name others.

    Parameters
    ----------
    folder : Path
        The data folder.
    names : Iterable[str]
        Names and addresses that devices open the bench by; the loopback ones are added.
    clock : Callable[[], datetime]
        This moment, UTC.

    Returns
    -------
    tuple[Path, Path]
        The chain (the bench's certificate and the root) and its key.

    Raises
    ------
    SleevewrightError
        If the authority's files cannot be read.
    """
    place = keys_folder(folder)
    wanted = tuple(dict.fromkeys(("localhost", "127.0.0.1", "::1", *map(str.lower, names))))
    root, key = _root(place, wanted, clock())
    certificate, bench_key = place / LEAF, place / LEAF_KEY
    if not _serves(certificate, bench_key, root, wanted, clock()):
        _make_leaf(place, root, key, wanted, clock())
    return certificate, bench_key


def root_certificate(folder: Path) -> bytes | None:
    """The authority's certificate as devices install it; nothing where none was made."""
    place = folder / "keys" / ROOT
    if not place.is_file():
        return None
    return x509.load_pem_x509_certificate(place.read_bytes()).public_bytes(
        serialization.Encoding.DER
    )


def fingerprint(folder: Path) -> str:
    """The authority's SHA-256, in pairs, to be compared before it is trusted."""
    content = root_certificate(folder)
    if content is None:
        return ""
    certificate = x509.load_der_x509_certificate(content)
    return certificate.fingerprint(hashes.SHA256()).hex(" ", 1).upper()


def _root(
    place: Path, names: tuple[str, ...], now: datetime
) -> tuple[x509.Certificate, ec.EllipticCurvePrivateKey]:
    """The authority; made where there is none, or where it may not vouch for a name."""
    if (place / ROOT).is_file():
        root, key = _read(place / ROOT, place / ROOT_KEY)
        is_current = now + LEAF_LIFE < root.not_valid_after_utc
        if is_current and _may_vouch(root, names):
            return root, key
    key = ec.generate_private_key(ec.SECP256R1())
    name = x509.Name(
        [
            x509.NameAttribute(NameOID.COMMON_NAME, f"Sleevewright bench, made {now:%Y-%m-%d}"),
            x509.NameAttribute(NameOID.ORGANIZATION_NAME, "This shop only"),
        ]
    )
    usage = _usage(signs_certificates=True)
    root = (
        _builder(name, name, key.public_key(), now, ROOT_LIFE)
        .add_extension(x509.BasicConstraints(ca=True, path_length=0), critical=True)
        .add_extension(usage, critical=True)
        .add_extension(_bounds(names), critical=True)
        .add_extension(x509.SubjectKeyIdentifier.from_public_key(key.public_key()), critical=False)
        .sign(key, hashes.SHA256())
    )
    for old in (ROOT, ROOT_KEY):
        (place / old).unlink(missing_ok=True)
    write_secret(place / ROOT_KEY, _pem(key))
    write_secret(place / ROOT, root.public_bytes(serialization.Encoding.PEM))
    return root, key


def _make_leaf(
    place: Path,
    root: x509.Certificate,
    root_key: ec.EllipticCurvePrivateKey,
    names: tuple[str, ...],
    now: datetime,
) -> None:
    """Write the bench's own certificate, with the root behind it, and its key."""
    key = ec.generate_private_key(ec.SECP256R1())
    subject = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, "Sleevewright bench")])
    issuer = x509.AuthorityKeyIdentifier.from_issuer_public_key(root_key.public_key())
    serves = x509.ExtendedKeyUsage([ExtendedKeyUsageOID.SERVER_AUTH])
    leaf = (
        _builder(subject, root.subject, key.public_key(), now, LEAF_LIFE)
        .add_extension(x509.BasicConstraints(ca=False, path_length=None), critical=True)
        .add_extension(_usage(signs_certificates=False), critical=True)
        .add_extension(serves, critical=False)
        .add_extension(x509.SubjectAlternativeName([_told(one) for one in names]), critical=False)
        .add_extension(issuer, critical=False)
        .sign(root_key, hashes.SHA256())
    )
    chain = b"".join(one.public_bytes(serialization.Encoding.PEM) for one in (leaf, root))
    for name, content in ((LEAF_KEY, _pem(key)), (LEAF, chain)):
        (place / name).unlink(missing_ok=True)
        write_secret(place / name, content)


UNFIT = (
    SleevewrightError,
    OSError,
    TypeError,
    ValueError,
    InvalidSignature,
    UnsupportedAlgorithm,
    x509.InvalidVersion,
)
"""What a file raises that is no certificate of this root; it is then made anew."""


def _serves(
    place: Path, key: Path, root: x509.Certificate, names: tuple[str, ...], now: datetime
) -> bool:
    """Whether the certificate that lies there is of this root, current, and names the same."""
    if not place.is_file() or not key.is_file():
        return False
    try:
        leaf, _ = _read(place, key)
        leaf.verify_directly_issued_by(root)
    except UNFIT:
        return False
    told = leaf.extensions.get_extension_for_class(x509.SubjectAlternativeName).value
    return set(told) == {_told(one) for one in names} and (
        leaf.not_valid_before_utc <= now < leaf.not_valid_after_utc - RENEWED_BEFORE
    )


def _builder(
    subject: x509.Name,
    issuer: x509.Name,
    key: ec.EllipticCurvePublicKey,
    now: datetime,
    life: timedelta,
) -> x509.CertificateBuilder:
    return (
        x509.CertificateBuilder()
        .subject_name(subject)
        .issuer_name(issuer)
        .public_key(key)
        .serial_number(x509.random_serial_number())
        .not_valid_before(now - SLACK)
        .not_valid_after(now + life)
    )


def _usage(*, signs_certificates: bool) -> x509.KeyUsage:
    return x509.KeyUsage(
        digital_signature=not signs_certificates,
        key_cert_sign=signs_certificates,
        crl_sign=signs_certificates,
        content_commitment=False,
        key_encipherment=False,
        data_encipherment=False,
        key_agreement=False,
        encipher_only=False,
        decipher_only=False,
    )


def _bounds(names: tuple[str, ...]) -> x509.NameConstraints:
    """What the authority may vouch for: these names, and addresses of private networks."""
    words = [x509.DNSName(one) for one in names if not _is_address(one)]
    public = [one for one in names if _is_address(one) and not _is_in(one, PRIVATE)]
    nets = [x509.IPAddress(ipaddress.ip_network(one)) for one in (*PRIVATE, *public)]
    return x509.NameConstraints(permitted_subtrees=[*words, *nets], excluded_subtrees=None)


def _may_vouch(root: x509.Certificate, names: tuple[str, ...]) -> bool:
    bounds = root.extensions.get_extension_for_class(x509.NameConstraints).value
    permitted = bounds.permitted_subtrees or []
    words = {one.value for one in permitted if isinstance(one, x509.DNSName)}
    nets = [str(one.value) for one in permitted if isinstance(one, x509.IPAddress)]
    return all(_is_in(one, nets) if _is_address(one) else one in words for one in names)


def _is_in(address: str, networks: Iterable[str]) -> bool:
    """Whether an address lies in one of these networks."""
    told = ipaddress.ip_address(address)
    return any(told in ipaddress.ip_network(one) for one in networks)


def _told(name: str) -> x509.GeneralName:
    if _is_address(name):
        return x509.IPAddress(ipaddress.ip_address(name))
    return x509.DNSName(name)


def _is_address(name: str) -> bool:
    try:
        ipaddress.ip_address(name)
    except ValueError:
        return False
    return True


def _pem(key: ec.EllipticCurvePrivateKey) -> bytes:
    return key.private_bytes(
        serialization.Encoding.PEM,
        serialization.PrivateFormat.PKCS8,
        serialization.NoEncryption(),
    )


def _read(place: Path, key: Path) -> tuple[x509.Certificate, ec.EllipticCurvePrivateKey]:
    try:
        certificate = x509.load_pem_x509_certificate(place.read_bytes())
        loaded = serialization.load_pem_private_key(key.read_bytes(), None)
    except (OSError, ValueError, TypeError) as wrong:
        raise SleevewrightError(
            f"keys/{place.name} or keys/{key.name} cannot be read. Restore both from a backup, "
            "or remove both: a new authority is then made, and each device takes it anew."
        ) from wrong
    if not isinstance(loaded, ec.EllipticCurvePrivateKey):
        raise SleevewrightError(f"keys/{key.name} is not a key of the bench; remove it.")
    return certificate, loaded
