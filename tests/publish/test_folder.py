"""The old or the new binder is whole at any moment; what is not ours is left alone."""

import json
import os

import pytest

from sitegen.errors import CallError
from sitegen.publish import folder
from sitegen.publish.folder import put_in_place


def files(word: str, *names: str) -> dict[str, bytes]:
    every = {name: word.encode() for name in names or ("site/index.html", f"site/{word}.html")}
    every["binder.json"] = json.dumps({"files": sorted(every)}).encode()
    return every


def there(out) -> dict[str, bytes]:
    return {path.relative_to(out).as_posix(): path.read_bytes() for path in out.rglob("*") if path.is_file()}


def test_a_new_binder_takes_the_place_of_the_old(tmp_path):
    put_in_place(tmp_path / "out", files("old").items())
    put_in_place(tmp_path / "out", files("new").items())
    assert there(tmp_path / "out") == files("new")
    assert os.listdir(tmp_path) == ["out"]


class Killed(BaseException):
    """Stands for a process that is ended: nothing after it runs, no handler of ours catches it."""


@pytest.mark.parametrize("had_old", [True, False])
def test_a_bind_killed_anywhere_leaves_one_binder_whole(tmp_path, monkeypatch, had_old):
    """Cut off at each file operation in turn: old or new is whole on disk, and the next call sets all right."""
    calls = 0
    while True:
        out = tmp_path / f"case{calls}" / "out"
        out.parent.mkdir()
        if had_old:
            put_in_place(out, files("old").items())
        left = calls
        with monkeypatch.context() as patch:
            def counted(real):
                def run(*args, **kwargs):
                    nonlocal left
                    if left == 0:
                        raise Killed
                    left -= 1
                    return real(*args, **kwargs)
                return run
            patch.setattr(folder.os, "rename", counted(os.rename))
            patch.setattr(folder.Path, "write_bytes", counted(folder.Path.write_bytes))
            patch.setattr(folder.shutil, "rmtree", counted(folder.shutil.rmtree))
            try:
                put_in_place(out, files("new").items())
                finished = True
            except Killed:
                finished = False
        whole = [there(path) for path in out.parent.iterdir()]
        assert not had_old or files("old") in whole or files("new") in whole
        folder.finish_swap(out)
        if had_old:
            assert there(out) in (files("old"), files("new"))
        put_in_place(out, files("new").items())
        assert there(out) == files("new") and os.listdir(out.parent) == ["out"]
        if finished:
            break
        calls += 1
    assert calls >= 5


def test_a_folder_with_a_stranger_is_refused(tmp_path):
    put_in_place(tmp_path / "out", files("old").items())
    (tmp_path / "out" / "site" / "mine.txt").write_text("mine")
    with pytest.raises(CallError, match="holds site/mine.txt, which this tool did not write; it was left alone"):
        put_in_place(tmp_path / "out", files("new").items())
    assert (tmp_path / "out" / "site" / "mine.txt").read_text() == "mine"


def test_a_folder_that_is_no_binder_is_refused(tmp_path):
    (tmp_path / "out").mkdir()
    (tmp_path / "out" / "letter.txt").write_text("mine")
    with pytest.raises(CallError, match="holds something that this tool did not write; it was left alone"):
        put_in_place(tmp_path / "out", files("new").items())
    assert os.listdir(tmp_path / "out") == ["letter.txt"]


def test_an_empty_folder_is_taken(tmp_path):
    (tmp_path / "out").mkdir()
    put_in_place(tmp_path / "out", files("new").items())
    assert there(tmp_path / "out") == files("new")
