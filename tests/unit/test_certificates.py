"""TLS by the shop's own authority: a real handshake, renewal, bounds; secrets and addresses."""

from __future__ import annotations

import os
import ssl
import stat
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Self

import pytest
from cryptography import x509

from sleevewright.errors import SleevewrightError
from sleevewright.services import network
from sleevewright.services.certificates import (
    LEAF_LIFE,
    ROOT_LIFE,
    fingerprint,
    root_certificate,
    tls_files,
)
from sleevewright.services.keys import secret_of, write_secret

NAMES = ("192.168.7.20", "shop", "shop.local")
NOW = datetime.now(UTC).replace(microsecond=0)


def shake(server: ssl.SSLContext, client: ssl.SSLContext, name: str) -> str:
    """A handshake in memory; the cipher that was agreed on."""
    to_server, to_client = ssl.MemoryBIO(), ssl.MemoryBIO()
    one = client.wrap_bio(to_client, to_server, server_hostname=name)
    other = server.wrap_bio(to_server, to_client, server_side=True)
    for _ in range(6):
        for side in (one, other):
            try:
                side.do_handshake()
            except ssl.SSLWantReadError:
                continue
    cipher = one.cipher()
    assert cipher is not None
    return cipher[0]


def contexts(folder: Path, names: tuple[str, ...]) -> tuple[ssl.SSLContext, ssl.SSLContext]:
    """A server with the bench's files, and a device that trusts only the shop's authority."""
    certificate, key = tls_files(folder, names)
    server = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    server.load_cert_chain(certificate, key)
    client = ssl.SSLContext(ssl.PROTOCOL_TLS_CLIENT)
    root = root_certificate(folder)
    assert root is not None
    client.load_verify_locations(cadata=root)
    return server, client


@pytest.mark.parametrize("name", [*NAMES, "localhost", "127.0.0.1"])
def test_a_device_that_trusts_the_root_trusts_the_bench(tmp_path: Path, name: str) -> None:
    """OpenSSL verifies chain, bounds and name, for each name that the bench goes by."""
    assert shake(*contexts(tmp_path, NAMES), name).startswith("TLS_")


@pytest.mark.parametrize("name", ["192.168.7.21", "evil.test", "shop.evil.test"])
def test_another_name_is_not_trusted(tmp_path: Path, name: str) -> None:
    """The certificate is good for the bench's names only."""
    with pytest.raises(ssl.SSLCertVerificationError):
        shake(*contexts(tmp_path, NAMES), name)


def test_a_device_without_the_root_does_not_trust(tmp_path: Path) -> None:
    """Nothing is trusted by itself."""
    server, _ = contexts(tmp_path, NAMES)
    with pytest.raises(ssl.SSLCertVerificationError):
        shake(server, ssl.SSLContext(ssl.PROTOCOL_TLS_CLIENT), "localhost")


def test_the_authority_cannot_vouch_for_the_world(tmp_path: Path) -> None:
    """Its certificate is bound to the shop's names and private networks, critically (RFC 5280)."""
    contexts(tmp_path, NAMES)
    root = x509.load_der_x509_certificate(root_certificate(tmp_path) or b"")
    found = root.extensions.get_extension_for_class(x509.NameConstraints)
    words = {
        one.value for one in found.value.permitted_subtrees or [] if isinstance(one, x509.DNSName)
    }
    assert found.critical
    assert words == {"localhost", "shop", "shop.local"}
    basic = root.extensions.get_extension_for_class(x509.BasicConstraints).value
    assert (basic.ca, basic.path_length) == (True, 0)


def test_files_are_kept_until_they_are_old(tmp_path: Path) -> None:
    """The same names give the same files; only an old certificate is made anew."""
    first = tls_files(tmp_path, NAMES, clock=lambda: NOW)[0].read_bytes()
    root = root_certificate(tmp_path)
    assert tls_files(tmp_path, NAMES, clock=lambda: NOW)[0].read_bytes() == first
    late = NOW + LEAF_LIFE - timedelta(days=29)
    second = tls_files(tmp_path, NAMES, clock=lambda: late)[0].read_bytes()
    assert second != first
    assert root_certificate(tmp_path) == root
    leaf = x509.load_pem_x509_certificate(second)
    assert leaf.not_valid_after_utc == late + LEAF_LIFE
    assert timedelta(days=398) >= LEAF_LIFE


def test_the_root_is_made_anew_before_it_ends(tmp_path: Path) -> None:
    """A bench that runs for ten years goes on, with an authority that devices take anew."""
    tls_files(tmp_path, NAMES, clock=lambda: NOW)
    root = root_certificate(tmp_path)
    tls_files(tmp_path, NAMES, clock=lambda: NOW + ROOT_LIFE - timedelta(days=300))
    assert root_certificate(tmp_path) != root


def test_another_address_needs_no_new_root_but_another_name_does(tmp_path: Path) -> None:
    """A router that gives another address does not make every device trust anew."""
    tls_files(tmp_path, NAMES)
    root = root_certificate(tmp_path)
    certificate, _ = tls_files(tmp_path, ("192.168.7.99", "shop"))
    leaf = x509.load_pem_x509_certificate(certificate.read_bytes())
    told = leaf.extensions.get_extension_for_class(x509.SubjectAlternativeName).value
    assert "192.168.7.99" in {str(one) for one in told.get_values_for_type(x509.IPAddress)}
    assert root_certificate(tmp_path) == root
    tls_files(tmp_path, ("mill",))
    assert root_certificate(tmp_path) != root


def test_a_public_address_of_this_machine_is_vouched_for(tmp_path: Path) -> None:
    """Where the machine has an address that is not private, it is within the bounds too."""
    assert shake(*contexts(tmp_path, ("203.0.113.7",)), "203.0.113.7")


def test_a_damaged_certificate_is_made_anew_a_damaged_root_is_told(tmp_path: Path) -> None:
    """What can be made again is; what devices trust is never replaced silently."""
    certificate, _ = tls_files(tmp_path, NAMES)
    certificate.write_bytes(b"nothing")
    tls_files(tmp_path, NAMES)
    assert certificate.read_bytes().startswith(b"-----BEGIN CERTIFICATE-----")
    (tmp_path / "keys" / "root.key").write_bytes(b"nothing")
    with pytest.raises(SleevewrightError, match=r"root\.key cannot be read. Restore both"):
        tls_files(tmp_path, NAMES)


def test_no_root_before_tls_is_asked_for(tmp_path: Path) -> None:
    """A shop without TLS has nothing to download."""
    assert root_certificate(tmp_path) is None
    assert fingerprint(tmp_path) == ""
    tls_files(tmp_path, NAMES)
    assert len(fingerprint(tmp_path).split()) == 32


@pytest.mark.skipif(os.name != "posix", reason="modes are a thing of POSIX systems")
def test_secrets_are_their_owners_alone(tmp_path: Path) -> None:
    """Every file in keys/ is 0600 and the folder 0700."""
    tls_files(tmp_path, NAMES)
    secret_of(tmp_path, "cookies")
    modes = {path.name: stat.S_IMODE(path.stat().st_mode) for path in (tmp_path / "keys").iterdir()}
    assert set(modes.values()) == {0o600}
    assert {"cookies", "root.key", "bench.key"} <= set(modes)
    assert stat.S_IMODE((tmp_path / "keys").stat().st_mode) == 0o700


def test_a_secret_is_made_once_and_differs_by_name(tmp_path: Path) -> None:
    """Asked again it is the same; another name and another folder have another."""
    first = secret_of(tmp_path, "cookies")
    assert secret_of(tmp_path, "cookies") == first
    assert len(first) == 32
    assert secret_of(tmp_path, "pin") != first
    assert secret_of(tmp_path / "other", "cookies") != first


def test_a_secret_that_is_there_is_never_replaced(tmp_path: Path) -> None:
    """Of two writers the first stays; what is no secret is told with what to do."""
    secret = secret_of(tmp_path, "cookies")
    write_secret(tmp_path / "keys" / "cookies", b"another")
    assert secret_of(tmp_path, "cookies") == secret
    (tmp_path / "keys" / "pin").write_text("short", encoding="ascii")
    with pytest.raises(SleevewrightError, match=r"keys/pin: .* Restore it from a backup"):
        secret_of(tmp_path, "pin")
    assert list((tmp_path / "keys").glob("*.part")) == []


TRIE = """Main:
  +-- 0.0.0.0/0 3 0 5
     |-- 0.0.0.0
        /0 universe UNICAST
     +-- 192.168.7.0/24 2 0 2
        |-- 192.168.7.0
           /24 link UNICAST
        |-- 192.168.7.20
           /32 host LOCAL
        |-- 192.168.7.255
           /32 link BROADCAST
Local:
     |-- 127.0.0.1
        /32 host LOCAL
     |-- 172.17.0.1
        /32 host LOCAL
     |-- 192.168.7.20
        /32 host LOCAL
"""


def test_addresses_are_read_and_not_asked_for(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """From the system's own table: this machine's addresses, no broadcast, no loopback."""
    table = tmp_path / "fib_trie"
    table.write_text(TRIE, encoding="ascii")
    monkeypatch.setattr(network, "ROUTES", table)
    assert network.lan_addresses() == ("192.168.7.20", "172.17.0.1")
    monkeypatch.setattr(network.socket, "gethostname", lambda: "Mill.fritz.test")
    assert network.lan_names()[2:] == ("mill.fritz.test", "mill", "mill.local")


def test_without_a_table_the_route_is_asked_without_a_packet(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A datagram socket chooses the address it would leave from; no network gives none."""

    class Route:
        """A socket that notes where to, and never sends."""

        is_up = True

        def __init__(self, *kind: object) -> None:
            assert kind == (network.socket.AF_INET, network.socket.SOCK_DGRAM)

        def __enter__(self) -> Self:
            return self

        def __exit__(self, *_: object) -> None:
            return None

        def connect(self, place: tuple[str, int]) -> None:
            assert place[0].startswith("192.0.2.")
            if not self.is_up:
                raise OSError(101, "unreachable")

        def getsockname(self) -> tuple[str, int]:
            return ("10.0.0.5", 0)

    monkeypatch.setattr(network, "ROUTES", tmp_path / "none")
    monkeypatch.setattr(network.socket, "socket", Route)
    assert network.lan_addresses() == ("10.0.0.5",)
    Route.is_up = False
    assert network.lan_addresses() == ()


def test_the_window_says_where_to_go_and_what_to_key() -> None:
    """Address of the pairing page and the code, in words; without a network the cure."""
    words = network.pairing_words(("192.168.7.20",), 8175, "048215", is_tls=True)
    assert "https:" + "//192.168.7.20:8175/pair" in words
    assert "048 215" in words
    assert "Connect it" in network.pairing_words((), 8175, "048215")


def test_the_qr_code_of_the_window_has_its_quiet_zone() -> None:
    """Four light modules all round, two rows a line; a console without blocks gets none."""
    address = network.pairing_address("192.168.7.20", 8175)
    rows = network.qr_modules(address)
    lines = network.qr_lines(address)
    assert len(rows) == len(rows[0])
    assert not any(any(row) for row in (*rows[:4], *rows[-4:]))
    assert not any(any((*row[:4], *row[-4:])) for row in rows)
    assert rows[4][4:11] == (1,) * 7  # the finder pattern (ISO/IEC 18004)
    assert len(lines) == (len(rows) + 1) // 2
    assert lines[0] == "\N{FULL BLOCK}" * len(rows)
    assert network.qr_lines(address, encoding="ascii") == ()
