"""Write docs/commands/*.md from the commands themselves: python tools/command_pages.py."""

from __future__ import annotations

import inspect
import re
from collections.abc import Callable
from pathlib import Path
from typing import get_args, get_type_hints

from cyclopts import Parameter

from clothwright.cli.app import COMMANDS

HERE = Path(__file__).resolve().parent.parent / "docs" / "commands"
EXAMPLES = {
    "demo": ["clothwright demo", "clothwright demo checked-waistcoat --out my-demo --seconds 20"],
    "new": ['clothwright new "spring coat" --title "Spring coat" --unit in'],
    "open": [
        "clothwright open",
        "clothwright open coat",
        "clothwright open coat --share",
        "clothwright open coat --port 8400 --no-browser",
    ],
    "add": [
        'clothwright add coat front.svg --allowance "5/8 in" --edges '
        "hem,side,armhole,shoulder,neck,front --cut 'shell pair'",
        "clothwright add coat sleeve.svg --allowance none --scale cm --dry-run",
        "clothwright add coat back.svg --allowance drawn --notches none --marks 1,2",
    ],
    "seams": [
        "clothwright seams coat",
        "clothwright seams coat --confirm all",
        'clothwright seams coat --confirm 1,3 --ease "3=28 mm" --refuse 4',
        'clothwright seams coat --add "coat front.side" "lining front.side" --name "side again"',
        'clothwright seams coat --set elbow --join gathered --by "2 cm"',
        "clothwright seams coat --set elbow --join pleated --folds 3 --folds-lie end",
        'clothwright seams skirt --set "centre back" --zip "22 cm"',
        "clothwright seams coat --turn elbow",
        "clothwright seams coat --take-out elbow",
    ],
    "name": [
        'clothwright name coat "coat front" --level "hip=hem start, 5 cm"',
        'clothwright name coat "coat front" --point "bust point=bust dart point, 2 cm, 0 cm"',
        'clothwright name coat "coat front" --corner "hem corner=side" --notch "hip=side 1"',
    ],
    "together": [
        "clothwright together coat",
        "clothwright together coat --confirm all",
        'clothwright together coat --add "lining sleeve" "coat sleeve"',
        'clothwright together coat --take-out "lining sleeve"',
    ],
    "sheets": ["clothwright sheets", "clothwright sheets --count 4 --paper Letter"],
    "body": [
        "clothwright body coat",
        "clothwright body coat --how all",
        'clothwright body coat bust="36 1/2 in" hip="97 cm"',
        "clothwright body coat --chart envelope.txt --chart-unit in",
        "clothwright body coat --chart example --take",
    ],
    "show": ["clothwright show coat", 'clothwright show coat "coat front"'],
    "change": [
        "clothwright change coat",
        "clothwright change coat kinds crop",
        'clothwright change coat crop edges="front.hem,back.hem" length="17 in" '
        '--why "to the high hip"',
        "clothwright change coat --off 2",
        "clothwright change coat --move 3 1",
    ],
    "again": [
        "clothwright again coat jacket",
        'clothwright again coat jacket --name "coat front=jacket front" --name "12=14"',
        "clothwright again coat jacket --rest",
    ],
    "edit": [
        "clothwright edit coat",
        'clothwright edit coat rename-workbook title="Spring coat"',
        'clothwright edit coat set-cloth cloth=lining values.width="45 in"',
        "clothwright edit coat set-unit unit=cm",
        "clothwright edit coat remove-rule plan=matched rule=2",
    ],
    "undo": ["clothwright undo coat", "clothwright undo coat --steps 3"],
    "redo": ["clothwright redo coat"],
    "history": ["clothwright history coat", "clothwright history coat --last 0"],
    "recover": [
        "clothwright recover coat",
        "clothwright recover coat --dry-run",
        "clothwright recover coat --state 3",
    ],
    "walk": [
        "clothwright walk coat",
        "clothwright walk coat --mend 2",
        "clothwright walk coat --out toile --paper Letter",
        "clothwright walk coat --json",
    ],
    "toile": [
        "clothwright toile coat",
        "clothwright toile coat signs",
        'clothwright toile coat "coat front.side" --seen pinned-out --by "1/2 in" --side left',
        "clothwright toile coat --take 1 2",
        "clothwright toile coat --leave 2",
    ],
    "lay": [
        "clothwright lay coat",
        'clothwright lay coat --plan "skirt only" --seconds 60 --json lay.json --out plans',
        'clothwright lay coat --plan "skirt only" --look --out plans',
    ],
    "ways-to-fit": [
        "clothwright ways-to-fit coat",
        'clothwright ways-to-fit coat --plan "all hems" --seconds 60 --least-hem "1 in"',
        'clothwright ways-to-fit coat --plan "all hems" --apply 2',
    ],
    "compare": ["clothwright compare coat", 'clothwright compare coat "skirt only" "all hems"'],
    "choose": [
        "clothwright choose coat --seconds 60 --workers 2",
        "clothwright choose coat --wishes",
        'clothwright choose coat --wish "border round the skirt hem" '
        '--wish "collar = coat front.neck on woven border" --out choices',
    ],
    "chart": [
        "clothwright chart coat --workers 2",
        'clothwright chart coat --widths "45 in, 60 in" --nap without --out chart.csv',
    ],
    "print": [
        "clothwright print coat",
        'clothwright print coat --as pages --paper Letter --piece "coat front"',
        'clothwright print coat --as sheet --roll "36 in"',
    ],
    "guide": ["clothwright guide coat", "clothwright guide coat --wearer"],
}


def page(name: str) -> str:
    """Return the page of one command: what it does, how to call it, every option."""
    command = next(c for c in COMMANDS if c.name == name).load()
    text = inspect.getdoc(command) or ""
    words, _, options = text.partition("Parameters\n----------\n")
    known = re.findall(r"^(\w+)\n((?:    .*\n?)+)", options + "\n", flags=re.MULTILINE)
    signature = inspect.signature(command)
    rows = []
    for option, about in known:
        parameter = signature.parameters[option]
        rows.append(f"| `{_label(parameter, command)}` | {' '.join(about.split())} |")
    calls = "\n".join(f"    {e}" for e in EXAMPLES[name])
    table = "\n".join(rows)
    return (
        f"# clothwright {name}\n\n{words.strip()}\n\n## Examples\n\n{calls}\n\n"
        f"## Parameters\n\n| | |\n| --- | --- |\n{table}\n"
    )


def _label(parameter: inspect.Parameter, command: Callable[..., object]) -> str:
    """Return what is typed for a parameter: its given name, else its own; places in capitals."""
    plain = parameter.name.strip("_").replace("_", "-")
    if parameter.kind in (parameter.POSITIONAL_OR_KEYWORD, parameter.VAR_POSITIONAL):
        return plain.upper()
    hint = get_type_hints(command, include_extras=True)[parameter.name]
    named = (n for p in get_args(hint) if isinstance(p, Parameter) for n in p.name or ())
    return next(named, f"--{plain}")


def main() -> None:
    """Write every page."""
    HERE.mkdir(parents=True, exist_ok=True)
    for command in COMMANDS:
        (HERE / f"{command.name}.md").write_text(page(command.name), encoding="utf-8")


if __name__ == "__main__":
    main()
