"""The example on paper, printed once."""

from dataclasses import replace
from pathlib import Path

import pytest
from publish.paper.prints import SIZES, Print, printed, write

from sitegen.job import read_job


def pytest_collection_modifyitems(items):
    """One worker has all of these: a print costs more than most tests."""
    for item in items:
        if Path(__file__).parent in item.path.parents:
            item.add_marker(pytest.mark.xdist_group("paper"))


@pytest.fixture(scope="session")
def sheets(example, tmp_path_factory):
    """Language -> the example's print-outs."""
    return write(read_job(example), tmp_path_factory.mktemp("paper"))


@pytest.fixture(scope="session")
def printouts(sheets, chromium):
    """(language, size of paper) -> the example's binder."""
    return {(language, size): replace(one, size=size, texts=tuple(printed(chromium, one.html, size)))
            for language, one in sheets.items() for size in SIZES}


@pytest.fixture(scope="session", params=[(language, size) for language in ("en", "es") for size in SIZES], ids="-".join)
def paper(request, printouts) -> Print:
    return printouts[request.param]
