"""Many jobs in one call, by hand: how much faster all cores are than one, and whether memory grows with the jobs.

    python tests/bench_many.py 500
"""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from bench_bind import make_job

DEVICES = 6     # of each house, with what hangs on them


def bound(jobs: list[Path], out: Path, cores: set[int]) -> tuple[float, float]:
    """Seconds on the clock, and the most memory that one process had, in MB."""
    shutil.rmtree(out, ignore_errors=True)
    start = time.time()
    with tempfile.TemporaryFile() as said:
        call = subprocess.Popen([sys.executable, "-m", "sitegen", "bind", *map(str, jobs), "--out", str(out)], stdout=said, stderr=said,
                                preexec_fn=lambda: os.sched_setaffinity(0, cores))
        _, status, usage = os.wait4(call.pid, 0)
        said.seek(0)
        assert status == 0, said.read()[-500:]
    return time.time() - start, usage.ru_maxrss / 1000


def main(count: int) -> None:
    cores = os.sched_getaffinity(0)
    with tempfile.TemporaryDirectory() as place:
        folder = Path(place)
        jobs = [make_job(folder / f"job{number}", DEVICES, ("en",)) for number in range(count)]
        for number, job in enumerate(jobs):
            text = (job / "job.yaml").read_text("utf-8")
            (job / "job.yaml").write_text(re.sub(r"(?m)^id: .*", f"id: house-{number}", text))
        few = bound(jobs[:count // 10], folder / "out", cores)
        all_cores, one = bound(jobs, folder / "out", cores), bound(jobs, folder / "out", {min(cores)})
        print(f"{count} jobs: {all_cores[0]:.0f} s on {len(cores)} cores, {one[0]:.0f} s on one: {one[0] / all_cores[0]:.2f} times")
        print(f"memory of one process: {few[1]:.0f} MB with {count // 10} jobs, {all_cores[1]:.0f} MB with {count}")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 500)
