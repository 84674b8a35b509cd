"""The command line. Nothing heavy is imported until a command runs."""

from __future__ import annotations

import contextlib
import gc
import io
import os
import signal
import sys
from enum import Enum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Optional

import typer

from brimfast import __version__
from brimfast.reports import encodings

if TYPE_CHECKING:
    from brimfast.reports.plan_content import Planned
    from brimfast.shared.reading import Source
    from brimfast.shared.units import System

COLLECT = 50_000, 20, 50  # a command makes much at once and keeps it: looking through it all too often costs a tenth
EXIT_SHORT, EXIT_INPUT, EXIT_FAULT, EXIT_ENDED = 1, 2, 3, 143

app = typer.Typer(
    name="brimfast",
    help="Weight, earthquake, joint and spill checks for heavy indoor water installations. It advises; a licensed "
    "structural engineer and the local code decide.",
    no_args_is_help=True,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
    context_settings={"help_option_names": ["-h", "--help"]},
)


class Units(str, Enum):
    us = "us"
    si = "si"


class Shape(str, Enum):
    weighed = "weighed"
    rack = "rack"
    tanks = "tanks"


class PlanName(str, Enum):
    cheap = "cheap"
    balanced = "balanced"
    thorough = "thorough"


class By(str, Enum):
    effort = "effort"
    cost = "cost"


class Topic(str, Enum):
    """Those of the findings, and what belongs to none."""

    weights = "weights"
    earthquake = "earthquake"
    floor = "floor"
    members = "members"
    stability = "stability"
    sway = "sway"
    hung = "hung"
    joints = "joints"
    slosh = "slosh"
    spill = "spill"
    exposure = "exposure"
    pipes = "pipes"
    cautions = "cautions"


PlainOption = Annotated[
    bool, typer.Option("--plain", help="Sentences in place of tables, colours and signs, for screen readers.")
]
UnitsOption = Annotated[Optional[Units], typer.Option("--units", help="Show results in us or si units.")]
FileArgument = Annotated[Path, typer.Argument(help="The installation file (YAML).", show_default=False)]


def _version(value: bool) -> None:
    if value:
        typer.echo(f"brimfast {__version__}")
        raise typer.Exit


@app.callback()
def options(
    version: Annotated[
        bool, typer.Option("--version", callback=_version, is_eager=True, help="Print the version and leave.")
    ] = False,
) -> None:
    """Options that stand before the command."""


def _system(source: Source, units: Units | None) -> System:
    if units is None:
        return source.installation.system
    return "si" if units is Units.si else "us"


def _is_utf8() -> bool:
    return (sys.stdout.encoding or "").lower().replace("-", "") == "utf8"


@app.command()
def check(
    file: FileArgument,
    json: Annotated[bool, typer.Option("--json", help="Print the machine-readable result instead.")] = False,
    everything: Annotated[bool, typer.Option("--all", help="Show every table, reason and caution.")] = False,
    topic: Annotated[
        Optional[list[Topic]], typer.Option("--topic", help="Show one topic; may stand several times.")
    ] = None,
    plain: PlainOption = False,
    units: UnitsOption = None,
    standard: Annotated[
        Optional[str],
        typer.Option("--standard", help="Compare with another standard, side by side (see: brimfast standards)."),
    ] = None,
    given: Annotated[
        Optional[list[str]],
        typer.Option("--with", help="An input of that standard, such as Z=0.4; may stand several times."),
    ] = None,
    csv: Annotated[
        Optional[Path], typer.Option("--csv", help="Of a folder: write a row for each file, in SI, to this CSV file.")
    ] = None,
    jobs: Annotated[
        int, typer.Option("--jobs", min=0, max=64, help="Of a folder: processes (0: as many as there are cores).")
    ] = 0,
) -> None:
    """Check an installation, or every file of a folder. Exit code 0: nothing is short; 1: something is; 2: a file is wrong."""
    from brimfast.reports.checking import no_folder, one_way, show_check
    from brimfast.reports.run import assess_source, read_source

    topics = [one.value for one in topic or ()]
    other = "--json" if json else "--standard" if standard is not None or given else None
    one_way(everything, topics, plain, other)
    if file.is_dir():
        of_one = other or ("--all" if everything else "--topic" if topics else "--units" if units is not None else None)
        _check_folder(file, of_one, csv, jobs, plain)
        return
    if csv is not None:
        raise no_folder(file)
    source = read_source(file)
    if standard is not None or given:
        _compare(source, standard, given or [], json, units)
        return
    assessment = assess_source(source)
    if json:
        from brimfast.reports.json_face import as_json

        typer.echo(as_json(assessment, _system(source, units) if units else "si", _is_utf8()))
    else:
        show_check(assessment, file, _system(source, units), everything, topics, plain)
    if assessment.anything_short:
        raise typer.Exit(EXIT_SHORT)


def _check_folder(folder: Path, of_one: str | None, csv: Path | None, jobs: int, plain: bool) -> None:
    """Every file of a folder; the exit code is that of the worst."""
    from brimfast.reports.batch import as_csv, blocks, checked, csv_target, exit_code, files_of
    from brimfast.reports.checking import not_of_a_folder
    from brimfast.reports.progress import bar
    from brimfast.reports.terminal import show
    from brimfast.shared.errors import printable
    from brimfast.shared.writing import write_whole

    if of_one is not None:
        raise not_of_a_folder(of_one)
    paths = files_of(folder)
    if csv is not None:
        csv_target(csv, paths)
    with bar("files", plain) as progress:
        rows = list(checked(paths, jobs or os.cpu_count() or 1, progress))
    show(blocks(rows, folder), "si", plain)
    if csv is not None:
        write_whole(csv, as_csv(rows))
        typer.echo(f"wrote {printable(str(csv))}")
    code = exit_code(rows)
    if code:
        raise typer.Exit(code)


def _compare(source: Source, standard: str | None, given: list[str], json: bool, units: Units | None) -> None:
    """The same installation under the file's standard and another one."""
    from brimfast.reports.standards_compared import compared, comparison_json
    from brimfast.shared.errors import InputError, Problem

    if standard is None:
        message = "--with belongs to another standard; expected --standard NAME beside it"
        raise InputError([Problem("E-KEY-003", message)])
    found = compared(source, standard, given)
    if json:
        typer.echo(comparison_json(found, _system(source, units) if units else "si", _is_utf8()))
    else:
        from brimfast.reports.standards_compared_terminal import print_comparison
        from brimfast.reports.terminal_parts import console

        print_comparison(found, _system(source, units), console())
    if found.own.anything_short or found.other.anything_short:
        raise typer.Exit(EXIT_SHORT)


@app.command()
def standards(
    json: Annotated[bool, typer.Option("--json", help="Print the machine-readable list instead.")] = False,
    near: Annotated[
        Optional[str],
        typer.Option("--near", help="A hint at the design values of a place: its name, or 'latitude, longitude'."),
    ] = None,
) -> None:
    """List the standards and what each needs under site; or a hint at the values of a place."""
    from brimfast.reports.standards_list import print_standards, standards_json
    from brimfast.reports.standards_near import near_json, place_near, print_near
    from brimfast.reports.terminal_parts import console

    if near is not None:
        found = place_near(near)
        if json:
            typer.echo(near_json(found, _is_utf8()))
        else:
            print_near(found, console())
    elif json:
        typer.echo(standards_json(_is_utf8()))
    else:
        print_standards(console())


@app.command()
def report(
    file: FileArgument,
    output: Annotated[
        Optional[Path],
        typer.Option("-o", "--output", help="Where it goes: a name in .pdf or .html (default: FILE with .pdf)."),
    ] = None,
    units: UnitsOption = None,
    date: Annotated[
        Optional[str],
        typer.Option("--date", help="Date on the report, such as 2026-11-25 (default: today)."),
    ] = None,
    plan: Annotated[
        Optional[PlanName],
        typer.Option("--plan", help="Search for plans as `improve` does, and add the sheets to work by of this one."),
    ] = None,
    doubt: Annotated[bool, typer.Option("--doubt", help="Add chances, as `doubt` works them out.")] = False,
    tries: Annotated[
        int, typer.Option("--tries", min=8, max=100_000, help="With --plan: sets to try for each part.")
    ] = 64,
    samples: Annotated[
        int, typer.Option("--samples", min=1000, max=10_000_000, help="With --doubt: how many samples to draw.")
    ] = 100_000,
    jobs: Annotated[
        int, typer.Option("--jobs", min=0, max=64, help="Processes for both (0: as many as there are cores).")
    ] = 0,
) -> None:
    """Write the report: for owner, renter and engineer, two cards; with --plan sheets to work by, with --doubt chances."""
    from brimfast.reports.run import assess_source, not_the_input, read_source, report_date, report_kind, write_report
    from brimfast.shared.errors import printable
    from brimfast.shared.writing import must_be_new

    day = report_date(date)
    source = read_source(file)
    target = output or file.with_suffix(".pdf")
    not_the_input(file, target)
    report_kind(target)
    must_be_new(target, overwrite=True)
    system = _system(source, units)
    assessment = assess_source(source)
    planned = _planned(source, plan, tries, jobs, system) if plan is not None else None
    if doubt:
        from brimfast.reports.doubting import doubted

        found = doubted(source, samples, 1, jobs)
    write_report(assessment, source, system, day, target, planned, found if doubt else None)
    typer.echo(f"wrote {printable(str(target))}")


def _planned(source: Source, plan: PlanName, tries: int, jobs: int, system: System) -> Planned | None:
    """The plan for the report; where there is none, that is said, and the report is written without."""
    from brimfast.reports.improve_words import the_plan
    from brimfast.reports.improving import improved
    from brimfast.reports.plan_content import Planned

    improvement = improved(source, "effort", tries, jobs, system)
    chosen = the_plan(improvement, plan.value)
    if chosen is None:
        typer.echo("no sheets to work by: there is no plan, since no measure makes anything better", err=True)
        return None
    return Planned(improvement, chosen)


@app.command()
def improve(
    file: FileArgument,
    plan: Annotated[
        PlanName, typer.Option("--plan", help="The plan that is shown in full, and written.")
    ] = PlanName.balanced,
    by: Annotated[By, typer.Option("--by", help="What a plan spares: hours of work or money.")] = By.effort,
    write: Annotated[
        Optional[Path],
        typer.Option("--write", help="Write the installation with the plan as a new file, comments kept."),
    ] = None,
    tries: Annotated[
        int,
        typer.Option("--tries", min=8, max=100_000, help="Sets of measures to try for each part of the installation."),
    ] = 64,
    jobs: Annotated[int, typer.Option("--jobs", min=0, max=64, help="Processes (0: as many as there are cores).")] = 0,
    json: Annotated[bool, typer.Option("--json", help="Print the machine-readable result instead.")] = False,
    plain: PlainOption = False,
    force: Annotated[bool, typer.Option("--force", help="Replace a file that is there.")] = False,
    units: Annotated[Optional[Units], typer.Option("--units", help="Show results, and buy by, us or si units.")] = None,
) -> None:
    """Rank what can be done, find the least that does it, and prove it by computing anew.

    Exit code 0: with the plan nothing is short; 1: something still is; 2: the file is wrong.
    """
    from brimfast.reports.checking import plain_or_json
    from brimfast.reports.improve_words import the_plan
    from brimfast.reports.improving import improved, plan_bytes
    from brimfast.reports.run import not_the_input, read_source
    from brimfast.shared.errors import printable
    from brimfast.shared.writing import must_be_new, write_whole

    plain_or_json(plain, json)
    source = read_source(file)
    if write is not None:
        not_the_input(file, write)
        must_be_new(write, force)
    system = _system(source, units)
    improvement = improved(source, by.value, tries, jobs, system, plain)
    chosen = the_plan(improvement, plan.value)
    if json:
        from brimfast.reports.improve_json import improvement_json

        typer.echo(improvement_json(improvement, _is_utf8()))
    else:
        from brimfast.reports.improve_terminal import improvement_blocks
        from brimfast.reports.terminal import show

        show(improvement_blocks(improvement, plan.value), system, plain)
    if write is not None and chosen is None:
        typer.echo("nothing written: there is no plan, since no measure makes anything better", err=True)
    elif write is not None and chosen is not None:
        write_whole(write, plan_bytes(source, chosen), overwrite=force)
        typer.echo(f"wrote {printable(str(write))}", err=json)
    if (chosen.assessment if chosen is not None else improvement.assessment).anything_short:
        raise typer.Exit(EXIT_SHORT)


@app.command()
def doubt(
    file: FileArgument,
    against: Annotated[
        Optional[Path],
        typer.Option("--against", help="The same installation changed, such as with a plan: both side by side."),
    ] = None,
    plans: Annotated[
        bool, typer.Option("--plans", help="What each plan of `improve` takes off; searches for the plans first.")
    ] = False,
    samples: Annotated[int, typer.Option("--samples", min=1000, max=10_000_000, help="How many samples to draw.")] = (
        100_000
    ),
    seed: Annotated[
        int, typer.Option("--seed", min=0, max=2**31 - 1, help="The same seed gives the same figures.")
    ] = 1,
    jobs: Annotated[int, typer.Option("--jobs", min=0, max=64, help="Processes (0: as many as there are cores).")] = 0,
    json: Annotated[bool, typer.Option("--json", help="Print the machine-readable result instead.")] = False,
    plain: PlainOption = False,
    units: UnitsOption = None,
) -> None:
    """Tell what is not known, and what follows: chances in the design earthquake and in a year, what to measure first.

    Exit code 0: done; 2: the file is wrong. Chances have no verdict.
    """
    from brimfast.reports.checking import plain_or_json
    from brimfast.reports.doubting import doubted, with_plans
    from brimfast.reports.run import read_source

    plain_or_json(plain, json)
    source = read_source(file)
    changed = read_source(against) if against is not None else None
    system = _system(source, units)
    found = doubted(source, samples, seed, jobs, plain)
    other = doubted(changed, samples, seed, jobs, plain) if changed is not None else None
    improvement, each = with_plans(source, samples, seed, jobs, system, plain) if plans else (None, ())
    if json:
        from brimfast.reports.doubt_json import doubt_json

        typer.echo(doubt_json(found, other, each, _is_utf8()))
    else:
        from brimfast.reports.doubt_terminal import doubt_blocks
        from brimfast.reports.terminal import show

        show(doubt_blocks(found, other, system, improvement, each), system, plain)


@app.command()
def compare(
    a: Annotated[Path, typer.Argument(metavar="A", help="An installation file.", show_default=False)],
    b: Annotated[Path, typer.Argument(metavar="B", help="Another one, such as A with a plan.", show_default=False)],
    plain: PlainOption = False,
    units: UnitsOption = None,
) -> None:
    """Show what differs between two installation files, and what that changes. Exit code as `check` of B."""
    from brimfast.reports.compare import comparison_blocks
    from brimfast.reports.run import assess_source, read_source
    from brimfast.reports.terminal import show

    one, other = read_source(a), read_source(b)
    before, after = assess_source(one), assess_source(other)
    system = _system(other, units)
    show(comparison_blocks(one, other, before, after, system), system, plain)
    if after.anything_short:
        raise typer.Exit(EXIT_SHORT)


@app.command()
def demo(
    name: Annotated[str, typer.Argument(help="nursery, porch or rented-room.")] = "nursery",
    output: Annotated[
        Optional[Path],
        typer.Option("-o", "--output", help="Where the report goes (default: brimfast-NAME.pdf in this folder)."),
    ] = None,
    units: UnitsOption = None,
    print_file: Annotated[bool, typer.Option("--file", help="Print the demo's installation file instead.")] = False,
) -> None:
    """Run everything on an invented installation that comes along, and leave its report in this folder."""
    from brimfast.shared.demo import DEMOS, demo_bytes
    from brimfast.shared.demo import demo as demo_source
    from brimfast.shared.errors import InputError, Problem, printable
    from brimfast.shared.installation.fields import nearest

    if name not in DEMOS:
        known = list(DEMOS)
        message = f"no demo {name[:40]!r}; expected one of: {', '.join(known)}{nearest(name, known)}"
        raise InputError([Problem("E-WORD-001", message)])
    if print_file:
        typer.echo(demo_bytes(name).decode(), nl=False)
        return
    from brimfast.reports.blocks import Command
    from brimfast.reports.checking import show_summary
    from brimfast.reports.run import assess_source, report_date, report_kind, write_report
    from brimfast.shared.writing import must_be_new

    target = output or Path(f"brimfast-{name}.pdf")
    report_kind(target)
    must_be_new(target, overwrite=True)
    source = demo_source(name)
    assessment = assess_source(source)
    system = _system(source, units)
    rest = [
        Command(printable(str(target)), "the whole report"),
        Command(f"brimfast demo {name} --file", "its installation file, to start from"),
        Command("brimfast check FILE --all", "every table, of a file of yours"),
    ]
    show_summary(assessment, system, rest)
    write_report(assessment, source, system, report_date(None), target)
    typer.echo(f"\nwrote {printable(str(target))}")


@app.command()
def start(
    file: Annotated[Path, typer.Argument(help="The file to write.")] = Path("installation.yaml"),
    shape: Annotated[Optional[Shape], typer.Option(help="weighed, rack or tanks.")] = None,
    name: Annotated[Optional[str], typer.Option(help="What the installation is called.")] = None,
    units: UnitsOption = None,
    standard: Annotated[Optional[str], typer.Option("--standard", help="One of: brimfast standards.")] = None,
    site: Annotated[
        Optional[str], typer.Option("--site", help="Its values, such as 'a_g: 0.25, ground: C, spectrum: type 1'.")
    ] = None,
    s_ds: Annotated[Optional[str], typer.Option("--s-ds", help="S_DS of the address, in g.")] = None,
    category: Annotated[
        Optional[str],
        typer.Option(help="Residential seismic design category (A to D2), if S_DS is not known."),
    ] = None,
    room: Annotated[Optional[str], typer.Option(help="Room, such as '24 ft x 16 ft'.")] = None,
    sill: Annotated[Optional[str], typer.Option(help="Height of the door sill, such as '1 in'.")] = None,
    storey: Annotated[Optional[str], typer.Option(help="Which floor of how many, such as '2 of 3'.")] = None,
    below: Annotated[
        Optional[str], typer.Option(help="What is below: none, own room, other people's room, shop or office.")
    ] = None,
    ask: Annotated[Optional[bool], typer.Option("--ask/--no-ask", help="Ask on the terminal.")] = None,
    force: Annotated[bool, typer.Option("--force", help="Replace a file that is there.")] = False,
) -> None:
    """Write a commented starter file: by questions on a terminal, or from the options."""
    import shlex

    from brimfast.reports.starter import Answers, write_starter
    from brimfast.shared.errors import printable

    given = Answers(
        shape=shape.value if shape else None,
        name=name,
        units=units.value if units else None,
        standard=standard,
        site=site,
        s_ds=s_ds,
        category=category,
        room=room,
        sill=sill,
        storey=storey,
        below=below,
    )
    asks = ask if ask is not None else sys.stdin.isatty() and sys.stdout.isatty()
    write_starter(file, given, asks, force)
    shown = printable(str(file))
    typer.echo(f"wrote {shown}; now measure, fill it in, and run: brimfast check {shlex.quote(shown)}")


@app.command()
def page(
    where: Annotated[
        Path, typer.Argument(metavar="[FOLDER or FILE]", help="A folder, or an installation file.")
    ] = Path(),
    port: Annotated[
        int, typer.Option("--port", min=0, max=65535, help="Port of this machine (0: one that is free).")
    ] = 0,
    browser: Annotated[bool, typer.Option("--browser/--no-browser", help="Open the browser on it.")] = True,
) -> None:
    """Serve a page for the browser of this machine that does all of it without a terminal; Ctrl+C ends it."""
    from brimfast.reports.page.serve import serve

    def tell(address: str) -> None:
        typer.echo(
            f"Open this address in the browser of this machine (it works as long as this command runs):\n{address}"
        )
        sys.stdout.flush()

    serve(where, port, browser, tell)


@app.command()
def schema() -> None:
    """Print the JSON Schema of the installation file, for editors."""
    import json

    from brimfast.reports.run import installation_schema

    typer.echo(json.dumps(installation_schema(), indent=2, ensure_ascii=False))


def main() -> None:
    """Runs the command; whatever goes wrong ends in clear lines and an exit code, never in a traceback."""
    from brimfast.shared.errors import BrimfastError

    if sys.stdout is None or sys.stderr is None:  # begun with its output closed
        closed = open(os.devnull, "w")  # noqa: SIM115, PTH123
        sys.stdout, sys.stderr = sys.stdout or closed, sys.stderr or closed
    signal.signal(signal.SIGTERM, _ended)
    gc.set_threshold(*COLLECT)
    encodings.register()
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors=encodings.NAME)  # a terminal without our characters gets others
    command = typer.main.get_command(app)
    try:
        code = command.main(prog_name="brimfast", standalone_mode=False)
        sys.stdout.flush()
        sys.exit(code if isinstance(code, int) else 0)
    except BrimfastError as error:
        for problem in error.problems:
            _complain(problem.text())
        sys.exit(EXIT_INPUT)
    except typer.Abort:
        _complain("stopped")
        sys.exit(130)
    except KeyboardInterrupt:
        _complain("stopped")
        sys.exit(130)
    except BrokenPipeError:
        _silence_stdout()
        sys.exit(0)
    except OSError as error:
        _complain(f"the output can't be written: {(error.strerror or 'unknown reason').lower()} [E-FILE-003]")
        _silence_stdout()
        sys.exit(EXIT_INPUT)
    except Exception as error:
        usage = getattr(error, "format_message", None)
        if usage is not None:  # a wrong option or argument, in the words of the command-line library
            _complain(f"{' '.join(usage().split())} (see: brimfast --help)")
            sys.exit(EXIT_INPUT)
        if os.environ.get("BRIMFAST_DEBUG"):
            raise
        _complain(
            f"a fault of ours, not of your file: {type(error).__name__}: {' '.join(str(error).split())[:200]} "
            "(set BRIMFAST_DEBUG=1 to see where)"
        )
        sys.exit(EXIT_FAULT)


def _ended(*_: object) -> None:
    """Told to end: what is begun is put away on the way out."""
    sys.exit(EXIT_ENDED)


def _silence_stdout() -> None:
    """Python flushes stdout once more as it leaves; let that go nowhere."""
    with contextlib.suppress(OSError, ValueError):
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


def _complain(line: str) -> None:
    with contextlib.suppress(OSError):
        print(f"brimfast: {line}", file=sys.stderr, flush=True)
