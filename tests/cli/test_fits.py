"""`inspect-app fits`: a core's folder in, its fit check out as text or JSON, and its schema."""

import json

from inspect_app.model.fit_answer import FitAnswer
from tests.bundle.folders import six_folder
from tests.judge import six as sound
from tests.judge.fit_engine import read


def test_a_core_that_nobody_put_together_says_what_to_measure(run, six) -> None:
    done = run("fits", six)
    assert (done.code, done.err) == (0, "")
    lines = done.out.splitlines()
    assert "Open:" in lines
    assert "What the engine becomes:" in lines
    assert max(map(len, lines)) <= 110


def test_a_reading_out_of_its_window_leads(run, tmp_path) -> None:
    play = read("crankshaft", "end_play", "thrust_face", "0.015", gauge="dial indicator")
    evidence = [*sound.looks_and_tests(), *sound.readings(), play]
    done = run("fits", six_folder(tmp_path, evidence))
    assert done.code == 0
    assert ": 1 fit out of its window" in done.out.splitlines()[0]
    told = " ".join(done.out.replace("\u00a0", " ").split())
    assert "Crankshaft end play, thrust face: 0.0150 ± 0.0002 in (measured), window 0.003 to 0.008 in" in told
    assert "Thrust washer, each of two: at least 0.0035 in larger" in told


def test_the_json_is_a_fit_answer(run, six) -> None:
    done = run("fits", six, "--json")
    answer = FitAnswer.model_validate_json(done.out)
    assert answer.fit_answer_version == 1
    assert answer.counted("open") > 0
    told = json.loads(done.out)["fits"][0]
    assert {"fit", "place", "state", "window", "position_percent", "p_inside", "changes"} <= set(told)


def test_a_folder_that_is_not_there_is_refused(refused, tmp_path) -> None:
    (line,) = refused("fits", tmp_path / "none")
    assert "none" in line


def test_the_schema_of_a_fit_check_is_told(run) -> None:
    done = run("schema", "fits")
    assert done.code == 0
    assert "fit_answer_version" in json.loads(done.out)["properties"]
