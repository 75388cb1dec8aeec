"""Where the hub may listen, and what it may be called."""

from __future__ import annotations

import pytest

from partsbench.hub.network import host_fault, is_near, names_of, own_address


@pytest.mark.parametrize("address", ["192.168.1.9", "10.0.0.4", "172.20.3.3", "127.0.0.1",
                                     "169.254.3.4", "fe80::1%eth0", "fd00::8", "::1",
                                     "::ffff:192.168.1.9"])  # fmt: skip
def test_the_shops_own_network_is_near(address: str) -> None:
    assert is_near(address)
    assert host_fault(address) is None


@pytest.mark.parametrize("address", ["8.8.8.8", "0.0.0.0", "::", "2001:4860::1", "evil.example", "",
                                     "::ffff:8.8.8.8"])  # fmt: skip
def test_nothing_else_is(address: str) -> None:
    assert not is_near(address)
    assert host_fault(address) is not None


def test_a_name_bears_its_port() -> None:
    names = names_of("192.168.1.9", 8467)
    assert "192.168.1.9:8467" in names
    assert "192.168.1.9" not in names
    assert "192.168.1.9" in names_of("192.168.1.9", 443)


def test_this_machine_has_an_address_that_is_near() -> None:
    assert is_near(own_address())
