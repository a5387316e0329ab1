"""A laboratory's file: what is taken, what is left out, what refuses all of it."""

from __future__ import annotations

from datetime import date

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from model.records.csv_text import MOST_BYTES, MOST_ROWS
from model.records.events import Correction, LabReport, Taken
from model.records.history import History
from model.records.imported import missing_from, odd_results, reports_of
from model.records.lab_csv import LabCsv, read_lab_csv
from tests.records.houses import house

HOUSE = house()
TODAY = date(2026, 11, 25)
DAY = date(2026, 11, 20)
HEADER = "date,point,analyte,value,unit\n"


def read(text: str) -> LabCsv:
    return read_lab_csv(text.encode(), HOUSE, TODAY)


def one(row: str) -> Taken:
    found = read(HEADER + row)
    assert not found.problems
    (result,) = found.results
    return result.taken


@pytest.mark.parametrize(
    ("row", "quantity", "value"),
    [
        ("2026-11-20,source,pH,6.3,", "pH", 6.3),
        ("2026-11-20,source,pH,6.3", "pH", 6.3),
        ("2026-11-20,source,Temperature,52,F", "temperature", 11.11),
        ("2026-11-20,source,temperature,11,C", "temperature", 11.0),
        ("2026-11-20,source,alkalinity,61,mg/L as HCO3", "alkalinity", 50.03),
        ("2026-11-20,source,alkalinity,50,mg/L as CaCO3", "alkalinity", 50.0),
        ("2026-11-20,source,hardness,10,gpg", "hardness", 171.2),
        ("2026-11-20,source,hardness,2,dH", "hardness", 35.7),
        ("2026-11-20,source,calcium,20,ppm", "calcium", 20.0),
        ("2026-11-20,source,magnesium,4,mg/L", "magnesium", 4.0),
        ("2026-11-20,source,sodium,9,mg / l", "sodium", 9.0),
        ("2026-11-20,source,potassium,1,mg/L", "potassium", 1.0),
        ("2026-11-20,source,iron,120,ug/L", "iron", 0.12),
        ("2026-11-20,source,manganese,12,ppb", "manganese", 0.012),
        ("2026-11-20,source,chloride,12,mg/L", "chloride", 12.0),
        ("2026-11-20,source,sulfate,12,mg/L", "sulfate", 12.0),
        ("2026-11-20,source,nitrate,6,mg/L as N", "nitrate", 6.0),
        ("2026-11-20,source,NITRATE,44.3,MG/L AS NO3", "nitrate", 10.0),
        ("2026-11-20,source,nitrite,0.3285,mg/L as NO2", "nitrite", 0.1),
        ("2026-11-20,source,fluoride,0.3,mg/L", "fluoride", 0.3),
        ("2026-11-20,source,silica,14,mg/L", "silica", 14.0),
        ("2026-11-20,source,total dissolved solids,140,mg/L", "tds", 140.0),
        ("2026-11-20,source,conductivity,220,uS/cm", "conductivity", 220.0),
        ("2026-11-20,source,turbidity,0.4,NTU", "turbidity", 0.4),
        ("2026-11-20,source,UV transmittance,92,%", "uv_transmittance", 92.0),
        ("2026-11-20,source,arsenic,2,ug/L", "arsenic", 0.002),
        ("2026-11-20,tap,lead,4,µg/L", "lead", 0.004),
        ("2026-11-20,tap,copper,0.2,mg/L", "copper", 0.2),
        ("2026-11-20,source,uranium,3,ppb", "uranium", 0.003),
        ("2026-11-20,tap,total coliform,absent,", "total_coliform", 0.0),
        ("2026-11-20,tap,Total  Coliform,Present,CFU/100 mL", "total_coliform", 1.0),
        ("2026-11-20,tap,E. coli,3,CFU/100 mL", "e_coli", 3.0),
        ("2026-11-20,tap,e.coli,<1,MPN/100 mL", "e_coli", 0.0),
    ],
)
def test_every_analyte_and_unit(row: str, quantity: str, value: float) -> None:
    taken = one(row)
    assert taken.quantity == quantity
    assert taken.value == pytest.approx(value, rel=2e-3)


@pytest.mark.parametrize(
    ("row", "qualifier", "value", "entered"),
    [
        ("2026-11-20,source,iron,<0.05,mg/L", "<", 0.05, "<0.05 mg/L"),
        ("2026-11-20,tap,e. coli,>2419.6,MPN/100 mL", ">", 2419.6, ">2419.6 MPN/100 mL"),
        ("2026-11-20,tap,total coliform,TNTC,", ">", 200.0, "TNTC"),
    ],
)
def test_bounds_keep_their_sign_and_text(row: str, qualifier: str, value: float, entered: str) -> None:
    taken = one(row)
    assert (taken.qualifier, taken.value, taken.entered) == (qualifier, value, entered)


@pytest.mark.parametrize(
    "text",
    [
        "\ufeff" + HEADER + "2026-11-20,source,pH,6.3,\n",
        " Date , POINT,Analyte,VALUE , unit\r\n2026-11-20T09:30, Source ,PH,6.3,\r\n\r\n,,,,\r\n",
        'analyte,value,unit,date,point\n"pH",6.3,none,2026-11-20 09:30:00Z,"source"\n',
        HEADER.replace("\n", "\r") + "2026-11-20,source,pH,6.3,\r",
        HEADER.replace("\n", ",,\n") + "2026-11-20,source,pH,6.3,,,\n",
    ],
)
def test_case_spaces_order_and_line_ends_do_not_matter(text: str) -> None:
    found = read(text)
    assert not found.problems
    assert [(result.on, result.taken.value) for result in found.results] == [(DAY, 6.3)]


def test_an_unknown_analyte_is_left_out_and_named_whatever_else_stands_there() -> None:
    found = read(HEADER + "2026-11-20,source,Radon,900,pCi/L\n2026-11-20,source,pH,6.3,\nsome day,,meter,x,\n")
    assert [(left.line, left.analyte) for left in found.left_out] == [(2, "Radon"), (4, "meter")]
    assert [result.line for result in found.results] == [3]


@pytest.mark.parametrize(
    ("row", "says"),
    [
        ("2026-13-20,source,pH,6.3,", "2026-13-20"),
        ("2026-02-29,source,pH,6.3,", "2026-02-29"),
        ("20.11.2026,source,pH,6.3,", "20.11.2026"),
        ("today,source,pH,6.3,", "today"),
        (",source,pH,6.3,", "date is missing"),
        ("2026-11-20Tnoon,source,pH,6.3,", "time"),
        ("2026-11-26,source,pH,6.3,", "future"),
        ("1969-12-31,source,pH,6.3,", "1970"),
        ("2026-11-20,attic,pH,6.3,", "attic"),
        ("2026-11-20,,pH,6.3,", "point"),
        ("2026-11-20,source,,6.3,", "analyte"),
        ("2026-11-20,source,pH,,", "value"),
        ("2026-11-20,source,pH,14.5,", "14"),
        ("2026-11-20,source,pH,acid,", "acid"),
        ("2026-11-20,source,nitrate,5,mg/L", "as N"),
        ("2026-11-20,source,nitrate,5,", "as N"),
        ("2026-11-20,source,nitrite,5,ppm", "as N"),
        ("2026-11-20,source,alkalinity,5,mg/L", "as CaCO3"),
        ("2026-11-20,source,hardness,5,ppm", "as CaCO3"),
        ("2026-11-20,source,iron,5,", "unit"),
        ("2026-11-20,source,iron,5,furlong", "furlong"),
        ("2026-11-20,source,iron,5,NTU", "NTU"),
        ("2026-11-20,source,iron,nan,mg/L", "nan"),
        ("2026-11-20,source,iron,inf,mg/L", "inf"),
        ("2026-11-20,source,iron,1e999,mg/L", "1e999"),
        ("2026-11-20,source,iron,-1,mg/L", "-1"),
        ("2026-11-20,source,iron,<0,mg/L", "<0"),
        ("2026-11-20,source,iron,ND,mg/L", "below"),
        ("2026-11-20,source,iron,present,mg/L", "present"),
        ("2026-11-20,tap,e. coli,<200,MPN/100 mL", "does not show that there are none"),
        ("2026-11-20,tap,total coliform,<10,CFU/100 mL", "absent or present"),
        ("2026-11-20,source,nitrate,5-10,mg/L as N", "interval"),
        ("2026-11-20,source,iron,1,234,mg/L", "6 fields"),
        ("2026-11-20,source", "2 fields"),
    ],
)
def test_anything_else_wrong_refuses_the_file_with_its_line(row: str, says: str) -> None:
    found = read(HEADER + "2026-11-20,source,pH,6.3,\n" + row + "\n2026-11-20,source,calcium,9,mg/L\n")
    assert found.results == ()
    assert found.left_out == ()
    (problem,) = found.problems
    assert problem.line == 3
    assert says in problem.what


def test_every_problem_is_found_not_only_the_first() -> None:
    found = read(HEADER + '2026-13-01,attic,pH,15,\n2026-11-20,source,pH,"6\n3",\n2026-11-20,tap,lead,4,mg/L as N\n')
    assert [problem.line for problem in found.problems] == [2, 2, 2, 3, 5]


@pytest.mark.parametrize(
    ("data", "line", "says"),
    [
        (b"", 0, "empty"),
        (b"\n , ,\n", 0, "empty"),
        (HEADER.encode(), 0, "no results"),
        (b"date\tpoint\tanalyte\tvalue\tunit\n", 1, "The first line must be"),
        (b"date;point;analyte;value;unit\n", 0, "no results"),
        (b"date,point,analyte,value\n", 1, "unit"),
        (b"date,point,analyte,value,unit,flag\n", 1, "flag"),
        (b"date,point,analyte,value,unit,unit\n", 1, "more than once"),
        (b"when,where\n", 1, "meter"),
        (HEADER.encode() + b"2026-11-20,source,\xff,1,", 2, "UTF-8"),
        (HEADER.encode("utf-16"), 1, "UTF-8"),
        (HEADER.encode() + b"2026-11-20,so\0urce,pH,6,", 2, "NUL"),
        (HEADER.encode() + b'2026-11-20,"source"x,pH,6,', 2, "CSV"),
        (HEADER.encode() + b"x" * MOST_BYTES, 0, "larger"),
        (HEADER.encode() + b"2026-11-20,tap,pH,6\n" * (MOST_ROWS + 1), 0, "20,000"),
    ],
    ids=lambda value: None if isinstance(value, bytes) else str(value),
)
def test_a_file_of_another_form_is_refused(data: bytes, line: int, says: str) -> None:
    found = read_lab_csv(data, HOUSE, TODAY)
    (problem,) = found.problems
    assert problem.line == line
    assert says in problem.what


@given(st.binary(max_size=300) | st.text(max_size=200).map(lambda text: (HEADER + text).encode("utf-8", "ignore")))
@example(b'date,point,analyte,value,unit\n"')
def test_any_bytes_give_results_or_problems(data: bytes) -> None:
    found = read_lab_csv(data, HOUSE, TODAY)
    assert bool(found.problems) != bool(found.results or found.left_out)
    assert all(str(problem).isprintable() for problem in found.problems)


CELLS = st.tuples(
    st.sampled_from(["2026-11-20", "2025-03-01T10:00", "2027-01-01", "never"]),
    st.sampled_from(["source", "tap", "hose", "attic"]),
    st.sampled_from(["pH", "nitrate", "iron", "total coliform", "radon"]),
    st.sampled_from(["6.5", "<0.05", "present", "-1", "1e400"]),
    st.sampled_from(["", "mg/L", "mg/L as N", "CFU/100 mL"]),
)


@given(st.lists(CELLS, min_size=1, max_size=8))
def test_all_or_nothing(rows: list[tuple[str, ...]]) -> None:
    whole = read(HEADER + "".join(",".join(row) + "\n" for row in rows))
    alone = [read(HEADER + ",".join(row) + "\n") for row in rows]
    refused = [place for place, found in enumerate(alone, 2) if found.problems]
    assert sorted({problem.line for problem in whole.problems}) == refused
    if not refused:
        assert [one.taken for one in whole.results] == [one.taken for found in alone for one in found.results]


RESULTS = st.lists(
    st.tuples(
        st.dates(date(2020, 1, 1), TODAY),
        st.sampled_from(["source", "tap", "ro", "after_softener"]),
        st.sampled_from(["nitrate", "iron", "pH"]),
        st.floats(0.0, 14.0),
    ),
    min_size=1,
    max_size=12,
)


@given(RESULTS)
def test_round_trip_and_a_repeated_import_adds_nothing(rows: list[tuple[date, str, str, float]]) -> None:
    units = {"nitrate": "mg/L as N", "iron": "mg/L", "pH": ""}
    text = HEADER + "".join(f"{on},{point},{name},{value!r},{units[name]}\n" for on, point, name, value in rows)
    found = read(text)
    assert [(r.on, r.taken.point, r.taken.quantity, r.taken.value) for r in found.results] == rows
    new = missing_from((), found.results)
    reports = reports_of(new.results, "from a file")
    assert [report.on for report in reports] == sorted(report.on for report in reports)
    assert sum(len(report.taken) for report in reports) + new.already == len(rows)
    again = missing_from(reports, found.results)
    assert again.results == ()
    assert again.already == len(rows)


def test_what_was_taken_back_can_be_taken_in_again() -> None:
    found = read(HEADER + "2026-11-20,source,iron,120,ug/L\n")
    report = LabReport(id=1, on=DAY, point="source", taken=(Taken(quantity="iron", value=0.12, point="source"),))
    assert missing_from((report,), found.results).already == 1
    assert missing_from((report, Correction(id=2, on=DAY, voids=1)), found.results).already == 0


def test_a_report_for_each_day_and_point() -> None:
    rows = ("2026-11-20,tap,pH,7,", "2026-11-19,source,pH,6,", "2026-11-20,tap,iron,1,mg/L", "2026-11-20,ro,pH,6,")
    reports = reports_of(read(HEADER + "\n".join(rows)).results)
    assert [(one.on.day, one.point, len(one.taken)) for one in reports] == [
        (19, "source", 1),
        (20, "tap", 2),
        (20, "ro", 1),
    ]


def test_odd_results_are_told_with_their_line_and_still_taken() -> None:
    rows = "2026-10-01,source,nitrate,3,mg/L as N\n2026-11-20,source,nitrate,30,mg/L as N\n2026-11-20,source,pH,3,\n"
    found = read(HEADER + rows + "2026-11-20,source,pH,6.1,\n")
    odd = odd_results(HOUSE, History((), TODAY), found.results)
    assert [
        (line, words) for line, text in odd for words in ("far from", "unusually low", "Another") if words in text
    ] == [
        (3, "far from"),
        (4, "unusually low"),
        (5, "Another"),
    ]


SEMICOLONS = "unit;value;analyte;point;date\n"


@pytest.mark.parametrize(
    ("typed", "value", "qualifier"),
    [("13,5", 13.5, "="), ("<0,05", 0.05, "<"), ("0.5", 0.5, "="), ("1.234,5", 1234.5, "="), ("12", 12.0, "=")],
)
def test_semicolons_go_with_a_decimal_comma_in_any_order_of_columns(typed: str, value: float, qualifier: str) -> None:
    for begins in ("", "\ufeff"):
        found = read(f"{begins}{SEMICOLONS}mg/L;{typed};chloride;tap;2026-11-20\n")
        assert not found.problems
        (result,) = found.results
        assert (result.taken.value, result.taken.qualifier, result.taken.point) == (value, qualifier, "tap")


@pytest.mark.parametrize("typed", ["1.234", "1,2,3", "1,234.5", "1.23,4"])
def test_a_number_that_could_be_two_is_refused_with_its_line(typed: str) -> None:
    found = read(f"{SEMICOLONS}mg/L;{typed};chloride;tap;2026-11-20\n")
    assert not found.results
    assert [problem.line for problem in found.problems] == [2]


@given(st.floats(0.0, 9999.0).map(lambda x: round(x, 2)))
def test_a_comma_file_and_its_semicolon_twin_hold_the_same(value: float) -> None:
    point = one(f"2026-11-20,source,chloride,{value:.2f},mg/L").value
    twin = read(f"date;point;analyte;value;unit\n2026-11-20;source;chloride;{f'{value:.2f}'.replace('.', ',')};mg/L")
    assert [result.taken.value for result in twin.results] == [point]
