"""Killed at any moment of saving: what was told as saved is there, whole."""

import signal
import subprocess
import sys
import time

from stowright.app.bench import Benches
from stowright.app.loading import load_job

SAVES = """
import sys
from pathlib import Path
from stowright.app.bench import Benches
from stowright.app.study import Study
from stowright.app import bench

# the study is left out: what is tried here is the saving, as often as can be
bench.study = lambda text, *_, **__: Study(text=text)
opened = Benches(Path(sys.argv[1])).open("job")
length = int(sys.argv[2])
while True:
    length += 1
    opened.edit({"bay.length": length}, seen=opened.number)
    print(length, flush=True)
"""
JOB = """format = 1
[job]
title = "killed"
[bay]
kind = "van"
length = 1000
width = 1200
clear_height = 900
"""
#: How long saving goes on before it is killed: some saves, and somewhere within one. [s]
WAITS = (0.0, 0.011, 0.017, 0.023, 0.041)


def killed_after(root, start, wait):
    """Save on and on, kill, and return the last change that was told as saved."""
    command = [sys.executable, "-c", SAVES, str(root), str(start)]
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True) as saving:
        first = saving.stdout.readline()
        assert first, "nothing was saved"
        time.sleep(wait)
        saving.send_signal(signal.SIGKILL)
        told = [first, *saving.stdout.read().splitlines(keepends=True)]
    return int([line for line in told if line.endswith("\n")][-1])


def test_what_was_told_as_saved_is_there_after_every_kill(tmp_path):
    file = tmp_path / "job.toml"
    file.write_text(JOB)
    last = 1000
    for wait in WAITS:
        last = killed_after(tmp_path, last, wait)
        stands = load_job(file.read_bytes()).bay.length
        assert stands in {last, last + 1}  # the change under way may be there or not
        benches = Benches(tmp_path)
        assert benches.open("job").study.job.bay.length == stands
        assert benches.open("job").undo() is not None
        assert load_job(file.read_bytes()).bay.length in {stands - 1, stands}
        assert benches.open("job").redo() is not None
        benches.close()
        last = int(stands)
