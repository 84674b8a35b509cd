"""What is released: the source archive makes the same wheel as the checkout, and the wheel runs with nothing of it near."""

import os
import subprocess
import sys
import tarfile
import zipfile
from pathlib import Path

import pytest

TOP = Path(__file__).parents[1]
BUILD = "import sys; from hatchling import build; print(getattr(build, f'build_{sys.argv[1]}')(sys.argv[2]))"


def build(what, folder, here):
    command = [sys.executable, "-c", BUILD, what, str(folder)]
    done = subprocess.run(command, cwd=here, capture_output=True, text=True, timeout=100, check=False)
    assert done.returncode == 0, done.stderr
    return folder / done.stdout.split()[-1]


@pytest.fixture(scope="module")
def wheel(tmp_path_factory):
    """Made from the source archive, unpacked elsewhere."""
    work = tmp_path_factory.mktemp("release")
    with tarfile.open(build("sdist", work, TOP)) as archive:
        archive.extractall(work, filter="data")
    (unpacked,) = (one for one in work.iterdir() if one.is_dir())
    with zipfile.ZipFile(build("wheel", work, unpacked)) as archive:
        archive.extractall(work / "installed")
    return work / "installed"


def test_nothing_is_left_out(wheel):
    """Tables, demos, fonts, templates, scripts and styles of the page: every file of the package."""

    def inside(folder):
        files = (one for one in (folder / "brimfast").rglob("*") if one.is_file() and "__pycache__" not in one.parts)
        return {one.relative_to(folder): one.read_bytes() for one in files}

    assert inside(wheel) == inside(TOP)


def test_it_runs_with_nothing_of_the_checkout_near(wheel, tmp_path):
    environment = {key: value for key, value in os.environ.items() if not key.startswith("PYTHON")}
    done = subprocess.run(
        [sys.executable, "-m", "brimfast", "demo", "porch"],
        cwd=tmp_path, env=environment | {"PYTHONPATH": str(wheel)}, capture_output=True, text=True, timeout=100, check=False,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    assert (tmp_path / "brimfast-porch.pdf").read_bytes().startswith(b"%PDF-")
    where = [sys.executable, "-c", "import brimfast; print(brimfast.__file__)"]
    said = subprocess.run(
        where, cwd=tmp_path, env=environment | {"PYTHONPATH": str(wheel)}, capture_output=True, text=True, check=True
    )
    assert Path(said.stdout.strip()).is_relative_to(wheel)
