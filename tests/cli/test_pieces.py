from __future__ import annotations

import json
from pathlib import Path

import pytest

from partsbench import resources
from partsbench.core.piece.codes import Code, parse_code
from tests.cli.conftest import Call, parts_of


def test_lay_out_prints_the_tag_last_and_alone(good: Call) -> None:
    ran = good("lay-out", "Heron", "--rows", "2 2 3")
    assert len(ran.last) == 4
    assert good("pieces", "--json").json[0]["tag"] == ran.last


def test_parts_bear_codes_homes_and_faces(good: Call, tag: str) -> None:
    parts = parts_of(good, tag)
    assert len([p for p in parts.values() if p["family"] == "drawer"]) == 7
    drawer = parts["D5"]
    code = parse_code(drawer["code"])
    assert isinstance(code, Code)
    assert (code.tag, code.short) == (tag, "D5")
    assert (drawer["home"], drawer["status"]) == ("row 3, left", "no finish planned")
    assert parts["L1"]["home"] == "front left corner"
    assert parts["P1"]["home_code"] == parts["D1"]["code"]
    assert parts["T1"]["home_code"] == parts["C1"]["code"] == parts["C1"]["home_code"]


def test_faces_name_their_path_and_next_step(good: Call, tag: str) -> None:
    parts = parts_of(good, tag)
    faces = {f["name"]: f for f in parts["D1"]["faces"]}
    assert faces["front"] == {"name": "front", "path": "paint", "step": "wash"}
    assert faces["inside"] == {"name": "inside", "path": "raw", "step": None}
    assert {f["path"] for f in parts["D2"]["faces"]} == {"stain", "raw"}
    assert {f["path"] for f in parts["T1"]["faces"]} == {"stain", "raw"}


@pytest.mark.parametrize(
    ("size", "mm"), [("876", 876), ("34 1/2 in", 876.3), ("87.6 cm", 876), ("2' 10-1/2\"", 876.3)]
)
def test_sizes_are_taken_in_mm_and_inches(good: Call, size: str, mm: float) -> None:
    tag = good("lay-out", "Heron", "--rows", "1 1", "--width", size).last
    assert good("front", tag, "--json").json["width_mm"] == pytest.approx(mm)


def test_every_shipped_path_has_its_option(good: Call) -> None:
    keys = [p["key"] for p in good("paths", "--json").json]
    assert {"paint", "stain", "clear", "raw", "leave"} <= set(keys)
    for key in keys:
        option = f"--{key.replace('_', '-')}"
        tag = good("lay-out", f"Job {key}", "--rows", "1", option, "D1").last
        front = parts_of(good, tag)["D1"]["faces"][0]
        assert (front["name"], front["path"]) == ("front", key)


@pytest.mark.parametrize("sample", resources.samples(), ids=lambda p: p.stem)
def test_samples_are_taken_in(good: Call, sample: Path) -> None:
    ran = good("take-in", sample)
    tags = [line for line in ran.out.splitlines() if len(line) == 4]
    assert tags == ran.out.splitlines()[-len(tags) :]
    assert sorted(p["tag"] for p in good("pieces", "--json").json) == sorted(tags)
    assert len(tags) == (2 if sample.stem == "larch" else 1)


def test_the_namesakes_of_the_samples(good: Call) -> None:
    """The low dresser's seven drawers bear the numbers of the chest's outer ones."""
    heron, quill = (good("take-in", resources.sample(n)).last for n in ("heron", "quill"))
    ours = {p for p in parts_of(good, quill) if p.startswith("D")}
    assert ours == {f"D{n}" for n in range(1, 8)}
    assert ours < set(parts_of(good, heron))


def test_a_pair_has_codes_of_its_own(good: Call, tag: str) -> None:
    twin = good("mirror", tag, "--title", "the right one").last
    mine, other = parts_of(good, tag), parts_of(good, twin)
    assert mine["D1"]["home"] == other["D1"]["home"] == "row 1, left"
    assert {p["code"] for p in mine.values()} & {p["code"] for p in other.values()} == set()
    assert [f["path"] for f in other["D2"]["faces"]] == [f["path"] for f in mine["D1"]["faces"]]


def test_export_and_take_in_lose_nothing(good: Call, tag: str, tmp_path: Path) -> None:
    good("out", tag, "D1", "D2")
    good("scan", "D1", "--piece", tag, "--record", "--confirm")
    file = tmp_path / "heron.json"
    good("export", tag, file)
    other = tmp_path / "other.partsbench"
    assert good("take-in", file, "--book", other).last == tag
    assert good("--book", other, "parts", tag, "--json").json == good("parts", tag, "--json").json


@pytest.mark.parametrize(
    "text",
    ["", "[", "{", "codename = 3", 'codename = "X"', "\x00", '{"partsbench": 1}', "[[]]"],
)
def test_what_is_no_description_is_told_by_file(call: Call, tmp_path: Path, text: str) -> None:
    for ending in ("toml", "json"):
        file = tmp_path / f"odd.{ending}"
        file.write_text(text, encoding="utf-8")
        ran = call("take-in", file)
        assert (ran.code, ran.err.count("\n")) == (2, 1)
        assert str(file) in ran.err


def test_an_export_never_goes_over_the_book(call: Call, tag: str, book: Path) -> None:
    before = book.read_bytes()
    assert call("export", tag, book).code == 2
    assert book.read_bytes() == before


def test_a_client_is_noted_shown_and_forgotten(good: Call, call: Call, tag: str) -> None:
    good("client", tag, "--name", "A. Person", "--contact", "by the door")
    good("client", tag, "--note", "rings twice")
    assert good("client", tag, "--json").json == {
        "name": "A. Person", "contact": "by the door", "address": "", "note": "rings twice",
    }  # fmt: skip
    assert good("client", tag).out == "name: A. Person\ncontact: by the door\nnote: rings twice\n"
    assert "A. Person" not in good("parts", tag, "--json").out
    good("forget-client", tag)
    assert "A. Person" not in good("client", tag).out
    assert call("forget-client", tag).code in (0, 2)
    assert json.loads(good("parts", tag, "--json").out)


def test_a_finished_piece_is_put_away_and_out_again(call: Call, good: Call, tag: str) -> None:
    assert "put away" in good("put-away", tag).out
    assert call("put-away", tag).code == 2
    assert tag in good("pieces").out
    assert good("plan", "--seconds", "0.1").out.startswith("Nothing is left to do")
    assert "taken out again" in good("put-away", tag, "--again").out
