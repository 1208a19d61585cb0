"""The tool that plants faults: each is one change, in its place, and still a program."""

from __future__ import annotations

import ast

import pytest

import mutate

SOURCE = '''
def fits(a: float, b: float = 2.0) -> bool:
    """Words 3."""
    if a > 1 and b < 4:
        return below(a, b + 1)
    return not (a is None or f"{a + 5}" == "")
'''


def test_every_fault_is_one_change_and_compiles() -> None:
    plain = ast.unparse(ast.parse(SOURCE))
    texts = [mutate.planted(SOURCE, fault) for fault in mutate.faults_of("x.py", SOURCE)]
    assert len(texts) == len(set(texts))
    assert plain not in texts
    for text in texts:
        compile(text, "x.py", "exec")
        assert sum(a != b for a, b in zip(plain.splitlines(), text.splitlines(), strict=True)) == 1


@pytest.mark.parametrize(
    ("what", "line"),
    [
        ("Gt turned to GtE", "if a >= 1 and b < 4:"),
        ("turned to or", "if a > 1 or b < 4:"),
        ("condition 1 removed", "if b < 4:"),
        ("condition always false", "if False:"),
        ("below turned to at_most", "return at_most(a, b + 1)"),
        ("not below", "return not below(a, b + 1)"),
        ("plus and minus turned", "return below(a, b - 1)"),
        ("4 less 1", "if a > 1 and b < 3:"),
        ("2.0 plus 1", "def fits(a: float, b: float=3.0) -> bool:"),
        ("Is turned to IsNot", "return not (a is not None or f'{a + 5}' == '')"),
    ],
)
def test_faults_by_name(what: str, line: str) -> None:
    found = [f for f in mutate.faults_of("x.py", SOURCE) if f.what == what]
    assert any(line in mutate.planted(SOURCE, fault) for fault in found)


def test_words_and_types_carry_no_fault() -> None:
    lines = "\n".join(mutate.planted(SOURCE, fault) for fault in mutate.faults_of("x.py", SOURCE))
    assert "a - 5" not in lines
    assert "Words 4" not in lines
