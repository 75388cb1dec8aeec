from __future__ import annotations

import pytest

from partsbench.resources import asset, sample, samples


def test_an_asset_is_found_by_its_folder_and_name():
    assert asset("fonts/OFL.txt").read_text(encoding="utf-8").startswith("Copyright")


def test_an_asset_that_is_not_there_is_told_by_name():
    with pytest.raises(FileNotFoundError, match="no-such-thing"):
        asset("no-such-thing.svg")


def test_a_sample_that_is_not_there_is_told_by_name():
    with pytest.raises(FileNotFoundError, match="no-such-piece"):
        sample("no-such-piece")


def test_each_sample_is_found_with_and_without_its_ending():
    for path in samples():
        assert sample(path.name) == path
        assert sample(path.stem) == path
