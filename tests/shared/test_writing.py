"""A result is there whole or not at all."""

import os

import pytest

from brimfast.shared.errors import OutputError
from brimfast.shared.writing import must_be_new, write_whole


def test_writes_and_replaces(tmp_path):
    path = tmp_path / "a.pdf"
    write_whole(path, b"one")
    path.chmod(0o640)
    write_whole(path, b"two")
    assert path.read_bytes() == b"two"
    assert path.stat().st_mode & 0o777 == 0o640
    assert [item.name for item in tmp_path.iterdir()] == ["a.pdf"]


def test_follows_a_link_to_its_file(tmp_path):
    real, link = tmp_path / "real.pdf", tmp_path / "link.pdf"
    real.write_bytes(b"one")
    link.symlink_to(real)
    write_whole(link, b"two")
    assert link.is_symlink()
    assert real.read_bytes() == b"two"


def test_an_interrupted_write_keeps_the_old_file(tmp_path, monkeypatch):
    path = tmp_path / "a.pdf"
    path.write_bytes(b"old")
    monkeypatch.setattr(os, "fsync", lambda _: (_ for _ in ()).throw(OSError(28, "No space left on device")))
    with pytest.raises(OutputError) as caught:
        write_whole(path, b"new")
    assert "no space left" in caught.value.problems[0].message
    assert path.read_bytes() == b"old"
    assert [item.name for item in tmp_path.iterdir()] == ["a.pdf"]


def test_refuses_to_overwrite_when_told(tmp_path):
    path = tmp_path / "a.yaml"
    path.write_bytes(b"old")
    with pytest.raises(OutputError):
        write_whole(path, b"new", overwrite=False)
    with pytest.raises(OutputError):
        write_whole(tmp_path, b"new")


def test_a_folder_that_may_not_be_written_is_told_beforehand(tmp_path, monkeypatch):
    must_be_new(tmp_path / "a.pdf", overwrite=True)
    monkeypatch.setattr(os, "access", lambda path, mode: not mode & os.W_OK)
    with pytest.raises(OutputError) as caught:
        must_be_new(tmp_path / "a.pdf", overwrite=True)
    assert "can't be written: permission denied" in caught.value.problems[0].message
