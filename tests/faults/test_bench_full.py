"""A full or failing disk as a device sees it: told in words, nothing lost, nothing doubled."""

from pathlib import Path

from fastapi.testclient import TestClient

from file_layer import layered
from kill_bench import JOB, Outbox
from power_loss import Recorder
from sleevewright.services.bench import opened
from sleevewright.services.jobs import open_job
from sleevewright.web.app import create_app


class Switched(Recorder):
    """A disk on which writing or syncing can be switched to fail."""

    def __init__(self) -> None:
        super().__init__()
        self.fault = ""
        self.at = "write"

    def before(self, what: str, name: str) -> str:
        """The fault, where it is switched on."""
        is_due = self.fault and what == self.at
        return self.fault if is_due else super().before(what, name)


def hand_in(client: TestClient, outbox: Outbox) -> tuple[int, str]:
    """Hand in what waits; status and words of the answer."""
    told = {"device": outbox.device, "entries": outbox.waiting}
    answer = client.post("/api/records", json=told)
    if answer.status_code == 200:
        outbox.told(answer.json()["answers"])
    return answer.status_code, str(answer.json().get("text", ""))


def test_full_disk_is_told_and_passes(tmp_path: Path) -> None:
    """While there is no room everything stays on the device; with room it is kept, once."""
    disk, outbox = Switched(), Outbox("tablet", 1)
    with layered(disk), opened(tmp_path / "data") as bench:
        open_job(bench, JOB, {"invented": True})
        with TestClient(create_app(bench), base_url="http://localhost") as client:
            outbox.say()
            assert hand_in(client, outbox)[0] == 200
            disk.fault = "full"
            for _ in range(3):
                outbox.say()
                status, words = hand_in(client, outbox)
                assert status == 503
                assert "The disk is full" in words
                assert "not lost" in words
            assert len(outbox.waiting) == 3
            assert bench.store.stopped == ""
            disk.fault = ""
            assert hand_in(client, outbox)[0] == 200
        assert not outbox.waiting
        assert {one.id for one in bench.store.records(JOB)[1:]} == set(outbox.kept)
        assert bench.store.last(JOB) == 5
        assert bench.store.verify_all().is_good


def test_failed_sync_is_told_until_the_restart(tmp_path: Path) -> None:
    """After a failed sync nothing is kept and the answer says why; a restart brings all."""
    disk, outbox = Switched(), Outbox("tablet", 1)
    with layered(disk), opened(tmp_path / "data") as bench:
        open_job(bench, JOB, {"invented": True})
        with TestClient(create_app(bench), base_url="http://localhost") as client:
            outbox.say()
            assert hand_in(client, outbox)[0] == 200
            disk.at, disk.fault = "sync", "error"
            outbox.say()
            assert hand_in(client, outbox)[0] == 503
            disk.fault = ""
            status, words = hand_in(client, outbox)
            assert status == 503
            assert "start the program anew" in words
            assert client.get(f"/api/jobs/{JOB}/records").status_code == 200
    with opened(tmp_path / "data") as bench:
        with TestClient(create_app(bench), base_url="http://localhost") as client:
            assert hand_in(client, outbox)[0] == 200
        assert {one.id for one in bench.store.records(JOB)[1:]} == set(outbox.kept)
        assert len(outbox.kept) == 2
        assert bench.store.verify_all().is_good
