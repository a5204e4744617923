"""A writer that is killed at any instant: what it acknowledged is there, once, in a good chain."""

import os
import random
import signal
import subprocess
import sys
import time
from pathlib import Path

from sleevewright.store.store import open_reader, open_store
from store_examples import JOB

WRITES = """
import sys, pathlib, threading, uuid
from sleevewright.jobs.records import Draft
from sleevewright.store.store import open_reader, open_store

store = open_store(pathlib.Path(sys.argv[1]))
if not store.last("N-1"):
    store.append([Draft("N-1", uuid.uuid4().hex, "bench", 0, "job", {"title": "Invented"})])
lock = threading.Lock()

def device(name):
    while True:
        told = uuid.uuid4().hex
        store.append([Draft("N-1", told, name, 0, "value", {"cell": "a.b", "text": name})])
        with lock:
            sys.stdout.write(told + chr(10))
            sys.stdout.flush()

for n in range(4):
    threading.Thread(target=device, args=(f"t{n}",), daemon=True).start()
threading.Event().wait()
"""
KILLS = 10


def test_nothing_acknowledged_is_lost_by_kills(tmp_path: Path) -> None:
    """Ten kills of four writing threads: none lost, none doubled; readers see it at once."""
    chance = random.Random(20)  # noqa: S311 - instants of kills
    acknowledged: list[str] = []
    for _ in range(KILLS):
        process = subprocess.Popen(
            [sys.executable, "-c", WRITES, str(tmp_path)], stdout=subprocess.PIPE, text=True
        )
        assert process.stdout is not None
        acknowledged.append(process.stdout.readline().strip())
        time.sleep(chance.uniform(0, 0.05))
        os.kill(process.pid, signal.SIGKILL)
        rest, _errors = process.communicate()
        acknowledged += [line for line in rest.splitlines() if len(line) == 32]
    reader = open_reader(tmp_path)
    assert set(acknowledged) <= {one.id for one in reader.records(JOB)}
    reader.close()
    store = open_store(tmp_path)
    ids = [one.id for one in store.records(JOB)]
    assert len(ids) == len(set(ids))
    assert set(acknowledged) <= set(ids)
    assert len(acknowledged) > 5 * KILLS
    assert store.verify_all().is_good
    assert store.folded(JOB).missing() == {}
    store.close()
