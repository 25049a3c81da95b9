"""What is tracked is ours, small, and says nothing of the machine it was made on."""

from __future__ import annotations

import re
import shutil
import subprocess
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
MOST_BYTES = 1_000_000

# By their shape, so that none has to be named here. The words are written so that none matches
# itself.
HOSTS = re.compile(
    r"(?<![\w.-])(?!www\.(?:w3|inkscape)\.org\b)(?:[a-z0-9-]+\.)*[a-z0-9-]{2,}\.(?:org|com|net|io|dev)\b"
    r"|\b\w+://\d+(?:\.\d+){3}/\w"
)
"""A name on the internet; the two that are allowed name what is in an SVG file."""
ROOTS = "|".join(re.escape(p.name) for p in Path("/").iterdir() if p.is_dir())
SYSTEMS = r"dev/null|etc/hostname|usr/bin/(?:env|chromium)|proc/self/|proc/\{"
PATHS = re.compile(
    rf"(?<![\w.}}/\])*-])/(?!{SYSTEMS})(?:{ROOTS}|home|Users)/\w|\b[A-Z]:\\{{1,2}}\w+\\{{1,2}}\w|\bfile:///\w"
)
"""A path below a folder at the root of the machine this runs on, of a home, of a drive."""
WORDS = re.compile(
    r"transcrip[t]|seed documen[t]|seed-[0-9a-f]{6,}|issues sho[w]"
    r"|\b(sub|helper )?agen[t] (task|brief)|languag[e] model",
    re.IGNORECASE,
)
OUT = "a way out of the repository"
BARRED = {
    "a package host": HOSTS,
    "a path of one machine": PATHS,
    OUT: re.compile(r"(?<![\w./])(?:\.\./)+[\w.-]+"),
    "a word of our desk": WORDS,
}


def tracked() -> list[Path]:
    """Every file that git keeps, as it is in the work tree."""
    if shutil.which("git") is None or not (ROOT / ".git").exists():
        pytest.skip("not a git work tree")
    names = subprocess.run(
        ["git", "ls-files", "-z"], cwd=ROOT, capture_output=True, text=True, check=True
    ).stdout.split("\0")
    return [ROOT / name for name in names if name and (ROOT / name).is_file()]


def blots(text: str, folder: Path = ROOT) -> list[str]:
    """What in a text of a folder should not be there: line number, kind, the words themselves."""
    return [
        f"{number}: {kind}: {match.group()}"
        for number, line in enumerate(text.splitlines(), start=1)
        for kind, pattern in BARRED.items()
        for match in pattern.finditer(line)
        if kind != OUT or not (folder / match.group()).resolve().is_relative_to(ROOT)
    ]


def test_no_host_no_machine_path_no_stray_word() -> None:
    """Tracked files name no package host, no folder of one machine, none of the barred words."""
    found = [
        f"{path.relative_to(ROOT)}:{blot}"
        for path in tracked()
        for blot in blots(path.read_bytes().decode("utf-8", errors="replace"), path.parent)
    ]
    assert found == []


def test_the_names_of_files_are_plain() -> None:
    """Letters, digits, dot, dash and underscore, so that no slip of a command is kept as a file."""
    names = (str(path.relative_to(ROOT)) for path in tracked())
    assert [name for name in names if not re.fullmatch(r"[A-Za-z0-9_./-]+", name)] == []


def test_no_big_files() -> None:
    """No tracked file is over 1 MB: what is big is made by code."""
    big = {
        str(path.relative_to(ROOT)): path.stat().st_size
        for path in tracked()
        if path.stat().st_size > MOST_BYTES
    }
    assert big == {}


def test_the_lock_pins_and_hashes_everything() -> None:
    """Every line of the lock is an exact version with hashes; where from is not its business."""
    text = (ROOT / "requirements.lock").read_text(encoding="utf-8").replace("\\\n", " ")
    lines = [line for line in text.splitlines() if line.strip() and line.strip()[0] != "#"]
    assert len(lines) > 20
    for line in lines:
        assert re.match(r"[a-z0-9-]+==[\w.]+( ; [^#]*?)?\s+--hash=sha256:[0-9a-f]{64}", line), line
    assert "://" not in text


@pytest.mark.parametrize(
    "line",
    [
        "https://packages.example" + ".org/simple",
        "taken from packages.example" + ".io",
        "http://10.0" + ".0.7/simple",
        "/home" + "/ada/patterns",
        f"in {ROOT}/src",
        "C:\\" + "Users\\ada",
        "file:/" + "//ada",
        "as the tran" + "script says",
        "see ../shared" + "/design.md",
    ],
)
def test_a_planted_blot_is_found(line: str) -> None:
    """The search above can fail."""
    assert len(blots(f"fine\n{line}\n")) == 1


@pytest.mark.parametrize("line", ["/usr/bin/env bash", "a workshop", "~/patterns", "at home"])
def test_ordinary_words_are_no_blots(line: str) -> None:
    """Nor does it cry at everything."""
    assert blots(line) == []
