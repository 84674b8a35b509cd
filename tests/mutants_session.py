"""The program that tests.mutants starts in its copy of the project: mutmut, but each mutant in a fork of one collected session.

Kept are mutants of numbers, signs, operators, comparisons and of which way a condition goes. Of the tests that call a mutant's
function as many run as fit into the seconds that the variable SECONDS gives: those by hand and against published figures first,
the quickest before others.
"""

import os
import sys
from pathlib import Path

import libcst as cst
from _pytest.config import get_config
from _pytest.main import Session
from _pytest.runner import runtestprotocol
from mutmut import __main__ as program
from mutmut.mutation import file_mutation, mutators
from mutmut.runners.harness import PytestRunner
from mutmut.state import state
from mutmut.utils.file_utils import change_cwd
from mutmut.workers.isolation import ForkServerRunner

SECONDS = float(os.environ["SECONDS"])
TEXT = (cst.SimpleString, cst.FormattedString, cst.ConcatenatedString)
KEPT = ("number", "augmented_assignment", "remove_unary_ops", "keywords", "swap_op", "if_exp")


def order(test):
    return "by_hand" not in test and "published" not in test, state().duration_by_test[test], test


def trimmed(collect):
    def collected(*args, **options):
        collect(*args, **options)
        took = state().duration_by_test
        for name, tests in state().tests_by_mangled_function_name.items():
            spent, some = 0.0, set()
            for test in sorted(tests, key=order):
                if some and spent + took[test] > SECONDS:
                    break
                spent += took[test]
                some.add(test)
            state().tests_by_mangled_function_name[name] = some

    return collected


def warm_up(runner):
    with change_cwd("mutants"):
        config = get_config()
        plugins = config.pluginmanager
        arguments = ["--rootdir=.", "-q", *runner._pytest_add_cli_args, *runner._pytest_add_cli_args_test_selection]
        runner.config = plugins.hook.pytest_cmdline_parse(pluginmanager=plugins, args=arguments)
        session = Session.from_config(runner.config)
        runner.config._do_configure()
        runner.config.hook.pytest_sessionstart(session=session)
        runner.config.hook.pytest_collection(session=session)
        runner.items = {item.nodeid: item for item in session.items}
    without_mutant_all_pass(runner)


def run_tests(runner, *, mutant_name, tests):
    if mutant_name is None:
        return in_pytest(runner, mutant_name=mutant_name, tests=tests)
    items = [runner.items[name] for name in sorted(tests, key=order)]
    return int(any_fails(items))


def any_fails(items):
    with change_cwd("mutants"):
        return any(
            one.failed
            for item, after in zip(items, [*items[1:], None], strict=True)
            for one in runtestprotocol(item, log=False, nextitem=after)
        )


def without_mutant_all_pass(runner):
    """Else every mutant would count as noticed."""
    quick = sorted(state().duration_by_test, key=state().duration_by_test.__getitem__)[:300]
    child = os.fork()
    if child == 0:
        sys.stdout = sys.stderr = Path(os.devnull).open("w")  # noqa: SIM115
        os._exit(int(any_fails([runner.items[name] for name in quick])))
    if os.waitpid(child, 0)[1]:
        raise RuntimeError("tests fail in a fork without any mutant")


def which_way(choice):
    """As mutmut has it, but where either way is text: those are words of a report."""
    if not (isinstance(choice.body, TEXT) or isinstance(choice.orelse, TEXT)):
        yield from mutators.operator_if_exp(choice)


if __name__ == "__main__":
    file_mutation.mutation_operators[:] = [
        (node, which_way if change is mutators.operator_if_exp else change)
        for node, change in mutators.mutation_operators
        if change.__name__.removeprefix("operator_") in KEPT
    ]
    program.collect_or_load_stats = trimmed(program.collect_or_load_stats)
    in_pytest = PytestRunner.run_tests
    PytestRunner.warm_up = warm_up
    PytestRunner.run_tests = run_tests
    ForkServerRunner.run_clean_tests = lambda self, tests: 0  # collecting the calls ran them
    sys.exit(program.cli())
