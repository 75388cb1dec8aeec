"""Devices by name: each one once, and what each may show."""

from __future__ import annotations

from partsbench.core.outcomes import Done, Refused
from partsbench.services.heard import devices
from partsbench.services.shop import Shop


def test_two_devices_have_two_names(shop: Shop) -> None:
    assert isinstance(devices.pair(shop, "phone", "Tarn"), devices.Paired)
    again = devices.pair(shop, " PHONE", "Wren")
    assert again == Refused("There is a device “PHONE” already; choose another name.")
    assert [d.name for d in devices.all_devices(shop)] == ["phone"]


def test_whether_a_device_shows_clients_is_said_either_way(shop: Shop) -> None:
    devices.pair(shop, "phone", "Tarn")
    (phone,) = devices.all_devices(shop)
    assert devices.show_clients(shop, phone.id, False) == Done(
        "phone of Tarn may not show clients."
    )  # fmt: skip
    assert not devices.all_devices(shop)[0].sees_clients
    assert devices.show_clients(shop, phone.id, True) == Done("phone of Tarn may show clients.")
    assert devices.all_devices(shop)[0].sees_clients
    assert devices.show_clients(shop, 9, True) == Refused("No device has that number.")
