from __future__ import annotations

import pytest

from partsbench.core.toml_text import MOST_DEEP, TOO_DEEP, TomlFault, read_toml


def test_a_table_is_read_with_and_without_a_byte_order_mark() -> None:
    assert read_toml('\ufeffa = "b"\n[c]\nd = [1, 2]\n') == {"a": "b", "c": {"d": [1, 2]}}


@pytest.mark.parametrize(
    "text",
    [
        f"a = {'[' * 20_000}{']' * 20_000}",
        f"[{'.'.join(['a'] * 3_000)}]",
        f"a = {'[' * MOST_DEEP}{']' * MOST_DEEP}",
        f"a = {'{b = ' * MOST_DEEP}1{'}' * MOST_DEEP}",
    ],
)
def test_what_lies_too_deep_is_told(text: str) -> None:
    assert read_toml(text) == TomlFault(TOO_DEEP)


def test_what_lies_as_deep_as_may_be_is_read() -> None:
    depth = MOST_DEEP - 1
    assert isinstance(read_toml(f"a = {'[' * depth}{']' * depth}"), dict)


def test_the_line_of_a_fault_is_told() -> None:
    assert read_toml('a = 1\nb = "\n') == TomlFault("Illegal character '\\n'", 2)
    fault = read_toml("a = 1\nb = [1,\n")
    assert isinstance(fault, TomlFault) and fault.line == 2


def test_a_number_of_thousands_of_digits_is_told() -> None:
    fault = read_toml(f"a = {'9' * 5_000}")
    assert isinstance(fault, TomlFault) and "limit" in fault.why.lower()
