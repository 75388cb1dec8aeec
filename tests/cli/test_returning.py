from __future__ import annotations

from pathlib import Path

import pytest

from tests.cli.conftest import Call, parts_of


def pairs(good: Call, tag: str, *, swapped: tuple[str, str] = ("", "")) -> str:
    """Every part with its home code, as `parts --json` gives them."""
    parts = parts_of(good, tag)
    into = dict([swapped, swapped[::-1]])
    return "".join(
        f"{parts[into.get(number, number)]['home_code']} {part['code']}\n"
        for number, part in parts.items()
    )


def all_out(good: Call, tag: str) -> None:
    good("out", tag, *(n for n, p in parts_of(good, tag).items() if p["where"] != "stays"))


@pytest.mark.parametrize("sample", ["heron", "larch", "quill"])
def test_home_codes_make_right_pairs_of_every_part(good: Call, sample: str) -> None:
    from partsbench import resources

    tag = good("take-in", resources.sample(sample)).last
    all_out(good, tag)
    report = good("return", tag, "-", "--json", stdin=pairs(good, tag)).json
    assert report["complete"] is True
    assert all(p["right"] for p in report["pairs"])
    assert len(report["pairs"]) == len(parts_of(good, tag))


def test_what_is_missing_is_told_by_name(good: Call, call: Call, tag: str) -> None:
    all_out(good, tag)
    some = "".join(pairs(good, tag).splitlines(keepends=True)[:-3])
    ran = call("return", tag, "-", "--json", stdin=some)
    assert ran.code == 1
    assert ran.json["complete"] is False
    assert len(ran.json["missing"]) in (2, 3)
    plain = call("return", tag)
    assert plain.code == 1
    assert all(m["number"] in plain.out for m in ran.json["missing"])


def test_swapped_drawers_are_told_with_the_moves(
    good: Call, call: Call, tag: str, tmp_path: Path
) -> None:
    all_out(good, tag)
    file = tmp_path / "pairs.txt"
    file.write_text("# from the bench\n\n" + pairs(good, tag, swapped=("D3", "D4")))
    ran = call("return", tag, file)
    assert ran.code == 1
    assert "Moves: D3 to the bench, D4 to H4, D3 to H3. Three moves." in ran.out
    assert parts_of(good, tag)["D3"]["where"] == "in a wrong home"
    parts = parts_of(good, tag)
    put_right = f"{parts['D3']['home_code']} {parts['D3']['code']}\n{parts['D4']['code']}\n"
    assert "Everything is home." in good("return", tag, "-", stdin=put_right).out


def test_a_pull_on_the_wrong_drawer_is_wrong(good: Call, call: Call, tag: str) -> None:
    all_out(good, tag)
    parts = parts_of(good, tag)
    line = f"{parts['D2']['code']} {parts['P1']['code']}\n"
    ran = call("return", tag, "-", "--json", stdin=line)
    assert ran.code == 1
    assert ran.json["pairs"][0]["right"] is False
    assert ran.json["pairs"][0]["answer"] == "STOP"
    assert "on D1" in ran.json["pairs"][0]["sentence"]


@pytest.mark.parametrize(
    ("bad", "said"),
    [
        ("nonsense", "not a code"),
        ("{H3} {D3} {D4}", "line 2"),
        ("{H3} {H4}", "label of a home"),
        ("{D3} {D4}", "home label"),
        ("{H2} {D1}", "line 1"),
        ("{H1} {D2}", "H1"),
        ("{H1} {P1}", "on D1"),
        ("{H9} {D2}", "no job"),
    ],
)
def test_a_bad_line_is_named_and_nothing_is_recorded(
    good: Call, call: Call, tag: str, bad: str, said: str
) -> None:
    other = good("lay-out", "Quill", "--rows", "2").last
    parts = parts_of(good, tag)
    words = {n: p["code"] for n, p in parts.items()}
    words |= {f"H{n}": parts[f"D{n}"]["home_code"] for n in range(1, 8)}
    words |= {"Q1": parts_of(good, other)["D1"]["code"], "H9": "ZZZZ-H09AT"}
    before = good("history", "--json").out
    lines = "{H1} {D1}\n".format(**words) + bad.format(**words)
    ran = call("return", tag, "-", stdin=lines)
    assert (ran.code, ran.err.count("\n")) == (2, 1), ran
    assert "line 2" in ran.err
    if bad != "{H9} {D2}":
        assert said in ran.err
    assert call("history", "--json").out == before


def test_a_namesake_is_refused_with_its_own_home(good: Call, call: Call, tag: str) -> None:
    other = good("lay-out", "Quill", "--rows", "1 3").last
    stranger = parts_of(good, other)["D3"]["code"]
    home = parts_of(good, tag)["D3"]["home_code"]
    first = parts_of(good, tag)["D1"]
    before = good("history", "--json").out
    lines = f"{first['home_code']} {first['code']}\n{home} {stranger}\n"
    ran = call("return", tag, "-", stdin=lines)
    assert (ran.code, ran.err) == (1, "")
    assert "Line 2, wrong: This is Quill D3" in ran.out
    assert "another job" in ran.out and "row 2, middle" in ran.out
    assert "Nothing was recorded." in ran.out
    (pair,) = call("return", tag, "-", "--json", stdin=lines).json["pairs"]
    assert (pair["line"], pair["part"], pair["right"]) == (2, "D3", False)
    assert pair["answer"] == "OTHER JOB"
    assert call("history", "--json").out == before
    assert call("return", tag, "-", stdin=lines + "nonsense\n").code == 2


def test_a_part_of_another_job_is_answered_with_no_by_all_commands(
    good: Call, call: Call, tag: str
) -> None:
    other = good("lay-out", "Quill", "--rows", "1 3").last
    stranger = parts_of(good, other)["D3"]["code"]
    before = good("history", "--json").out
    for words in (
        ["out", tag, stranger],
        ["scan", stranger, "--piece", tag, "--record"],
        ["drill-check", stranger, stranger, "--piece", tag],
    ):
        ran = call(*words)
        assert (ran.code, ran.err) == (1, ""), words
        assert "Quill" in ran.out
    assert call("history", "--json").out == before


def test_files_that_cannot_be_read_are_named(call: Call, tag: str, tmp_path: Path) -> None:
    odd = tmp_path / "odd"
    odd.write_bytes(b"\xff\xfe\x00bad\xff")
    for path in (odd, tmp_path, tmp_path / "gone"):
        ran = call("return", tag, path)
        assert (ran.code, ran.err.count("\n")) == (2, 1)
        assert path.name in ran.err


def test_fit_results_stay_open_until_free(good: Call, call: Call, tag: str) -> None:
    good("fit", tag, "D6", "wax")
    assert call("return", tag, "--json").json["fits"] == [{"number": "D6", "result": "needs wax"}]
    assert parts_of(good, tag)["D6"]["fit"] == "needs wax"
    good("fit", tag, "D6", "free")
    assert call("return", tag, "--json").json["fits"] == []


def test_the_last_of_its_size_is_told_by_elimination(good: Call, call: Call, tag: str) -> None:
    all_out(good, tag)
    parts = parts_of(good, tag)
    most = "".join(f"{p['code']}\n" for n, p in parts.items() if n not in ("D4", "D7"))
    assert call("return", tag, "-", stdin=most).code == 1
    assert "D4, D7" in good("eliminate", tag).out
    assert good("return", tag).code == 0
    assert call("eliminate", tag).code == 2


def test_the_proof_says_whether_all_is_home(
    good: Call, call: Call, tag: str, tmp_path: Path
) -> None:
    file = tmp_path / "proof.pdf"
    all_out(good, tag)
    ran = call("proof", tag, "--out", file)
    assert (ran.code, "still missing" in ran.out) == (1, True)
    good("return", tag, "-", stdin=pairs(good, tag))
    good("proof", tag, "--out", file, "--paper", "letter")
    assert file.read_bytes().startswith(b"%PDF-")
    assert call("proof", tag, "--out", tmp_path / "x.pdf", "--paper", "a9").code == 2
    assert not (tmp_path / "x.pdf").exists()


def test_pulls_that_are_alike_come_home_by_count(good: Call) -> None:
    tag = good("lay-out", "Larch", "--rows", "2 2", "--pulls", "1").last
    pulls = ("P1", "P2", "P3", "P4")
    assert good("alike", tag, *pulls).last.endswith("P1–P4: alike, any to any place.")
    good("out", tag, *pulls)
    said = good("count-home", tag, "P2", "3").last
    assert said == "P1–P4: 3 of 4 are home. 1 still missing."
    assert parts_of(good, tag)["P1"]["group"] == parts_of(good, tag)["P4"]["group"] != ""
    good("alike", tag, *pulls, "--off")
    assert parts_of(good, tag)["P1"]["group"] == ""
