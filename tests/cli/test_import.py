"""`wellward import`: a laboratory's or a meter's file, all of it or nothing."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.cli.conftest import Shell

LAB = """\
date,point,analyte,value,unit
2026-11-20,source,pH,6.1,
2026-11-20,source,Nitrate,13.5,mg/L as N
2026-11-20,source,iron,<0.05,mg/L
2026-11-20,source,Radon,900,pCi/L
2026-11-21,tap,total coliform,absent,
"""


def written(tmp_path: Path, text: str | bytes, name: str = "lab.csv") -> str:
    path = tmp_path / name
    path.write_bytes(text if isinstance(text, bytes) else text.encode())
    return str(path)


def test_what_was_taken_and_what_was_left_out_is_told(shell: Shell, tmp_path: Path) -> None:
    ran = shell("import", written(tmp_path, LAB))
    assert (ran.code, ran.err) == (0, "")
    assert "iron <0.05 mg/L" in ran.out
    assert "line 5: “Radon”" in ran.out
    assert ran.out.splitlines()[-1] == "4 taken in, 1 left out."


def test_the_plan_and_the_log_know_it(shell: Shell, tmp_path: Path) -> None:
    shell("import", written(tmp_path, LAB))
    source = shell("water", "--json").document["points"][0]
    assert (source["pH"], source["nitrate_mg_l_n"], source["iron_mg_l"]) == (6.1, 13.5, 0.025)
    first, second = shell("log", "--last", "2", "--json").document["events"]
    assert [(one["kind"], one["on"], one["point"]) for one in (first, second)] == [
        ("lab_report", "2026-11-20", "source"),
        ("lab_report", "2026-11-21", "tap"),
    ]
    assert first["taken"][2] | {"point": ""} == {
        "quantity": "iron",
        "value": 0.05,
        "point": "",
        "qualifier": "<",
        "entered": "<0.05 mg/L",
    }
    assert shell("check").code == 0


def test_json_is_one_document(shell: Shell, tmp_path: Path) -> None:
    document = shell("import", written(tmp_path, LAB), "--json").document
    assert (document["taken"], document["already"]) == (4, 0)
    assert document["left_out"] == [{"line": 5, "analyte": "Radon"}]
    assert [event["point"] for event in document["events"]] == ["source", "tap"]


def test_a_repeated_import_changes_nothing(shell: Shell, tmp_path: Path) -> None:
    path = written(tmp_path, LAB)
    shell("import", path)
    before = shell.path.read_bytes()
    again = shell("import", path)
    assert again.code == 0
    assert "4 recorded already" in again.out
    assert shell.path.read_bytes() == before
    more = written(tmp_path, LAB + "2026-11-20,source,sodium,15,mg/L\n", "more.csv")
    assert shell("import", more, "--json").document["taken"] == 1


def test_every_problem_has_its_line_and_nothing_is_recorded(shell: Shell, tmp_path: Path) -> None:
    bad = LAB + "2026-11-31,source,iron,1,mg/L\n2026-11-20,source,nitrate,5,mg/L\n2027-01-01,tap,pH,7,\n"
    before = shell.path.read_bytes()
    for words in ([], ["--json"]):
        ran = shell("import", written(tmp_path, bad), *words)
        assert (ran.code, ran.out) == (1, "")
        lines = ran.err.splitlines()
        assert [line.startswith("wellward: ") for line in lines] == [True, True, True]
        assert ["line 7" in lines[0], "line 8" in lines[1], "line 9" in lines[2]] == [True, True, True]
    assert shell.path.read_bytes() == before


@pytest.mark.parametrize(
    "text", [b"", b"\xff\xfe\x00", b"{}", b"when,where\n1,2\n", b"date,point,analyte,value,unit\n"]
)
def test_another_kind_of_file_is_one_clear_line(shell: Shell, tmp_path: Path, text: bytes) -> None:
    ran = shell("import", written(tmp_path, text))
    assert (ran.code, ran.out) == (1, "")
    assert len(ran.err.splitlines()) == 1


def test_no_file_a_folder_and_no_name(shell: Shell, tmp_path: Path) -> None:
    for path in (tmp_path / "none.csv", tmp_path, "a\0b"):
        ran = shell("import", str(path))
        assert ran.code == 1
        assert len(ran.err.splitlines()) == 1
    assert shell("import").code == 2


def test_unlikely_results_are_taken_with_a_note(shell: Shell, tmp_path: Path) -> None:
    rows = "2026-11-20,source,nitrate,80,mg/L as N\n"
    ran = shell("import", written(tmp_path, LAB.splitlines()[0] + "\n" + rows))
    assert ran.code == 0
    assert "note: line 2" in ran.err


def test_only_unknown_analytes_record_nothing(shell: Shell, tmp_path: Path) -> None:
    before = shell.path.read_bytes()
    rows = "2026-11-20,source,Radon,900,pCi/L\n"
    ran = shell("import", written(tmp_path, LAB.splitlines()[0] + "\n" + rows))
    assert ran.code == 0
    assert "0 taken in, 1 left out." in ran.out
    assert shell.path.read_bytes() == before


def test_an_odd_file_name_is_no_trouble(shell: Shell, tmp_path: Path) -> None:
    ran = shell("import", written(tmp_path, LAB, "lab\n[b]\udcff.csv"), "--json")
    assert ran.code == 0
    assert ran.document["file"] == "lab?[b]?.csv"
    assert ran.document["events"][0]["note"] == "from lab?[b]?.csv"


def test_meter_readings(shell: Shell, tmp_path: Path) -> None:
    path = written(tmp_path, "date,reading,unit\n2026-11-24,57500,gal\n2026-11-25,57700,gal\n")
    document = shell("import", path, "--json").document
    assert [event["taken"]["entered"] for event in document["events"]] == ["57500 gal", "57700 gal"]
    assert "2 recorded already" in shell("import", path).out
    backwards = written(tmp_path, "date,reading,unit\n2026-11-25,100,gal\n")
    ran = shell("import", backwards)
    assert (ran.code, "line 2" in ran.err) == (1, True)


def test_meter_uses_follow_the_last_reading(shell: Shell, tmp_path: Path) -> None:
    path = written(tmp_path, "date,use,unit\n2026-11-24,150,gal\n2026-11-25,160,gal\n")
    values = [event["taken"]["value"] for event in shell("import", path, "--json").document["events"]]
    assert values[1] - values[0] == pytest.approx(160 * 3.785411784)
    assert "2 recorded already" in shell("import", path).out


def test_help_names_the_columns(shell: Shell) -> None:
    ran = shell("import", "--help")
    assert ran.code == 0
    assert "date,point,analyte,value,unit" in ran.out
