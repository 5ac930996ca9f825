"""The long runs of ``tests/long``, a little of each; README.md here says how to run them at length."""

import os

import pytest

from tests.long import bursts, mutants, writers


@pytest.mark.parametrize("seed", [1, 2])
def test_damaged_saves_are_told_or_read_by_every_reader(seed):
    found = mutants.run(12, seed)

    assert found.faults == []
    assert found.sound > 3


@pytest.mark.skipif(os.name == "nt", reason="signals of Unix")
def test_a_killed_window_leaves_every_answer_that_was_taken():
    taken, faults = writers.kills(3, 1)

    assert faults == []
    assert taken


def test_two_windows_at_one_file_lose_nothing():
    taken, faults = writers.two(3, 1, answers=6)

    assert faults == []
    assert taken == 3 * 2 * 6


def test_bursts_of_keys_mouse_and_sizes_never_end_the_app():
    windows, faults = bursts.bursts(40, 1)

    assert faults == []
    assert windows == 2
