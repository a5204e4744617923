"""A small bench of the tests: the wire of entry over one database file, with switches.

It keeps what it acknowledges in a file, so that it can be ended and started again on the
same port.  Its pages are the plainest that the modules of entry can be used on.
"""

from __future__ import annotations

import json
import os
import socket
import sqlite3
import subprocess
import sys
import threading
import time
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from typing import Any
from urllib.parse import parse_qs, urlparse

from sleevewright.errors import InputError
from sleevewright.units import Dimension, parse
from sleevewright.web.security import HEADERS
from sleevewright.web.statics import StaticFiles

NOMINAL = 0.055
"""Nominal of the bore in the test grid. [m]"""

PAGE = """<!doctype html><html lang="en"><head><meta charset="utf-8"><title>Entry</title>
<link rel="icon" href="data:,">
<link rel="stylesheet" href="{static}/static/tokens.css">
<link rel="stylesheet" href="{static}/static/sheet.css">
<link rel="stylesheet" href="{static}/static/bench/entry.css">
<script type="module" src="{static}/static/bench/start.js"></script></head><body>
<main data-bench data-job="{job}" data-cylinder="1" data-stage="parent" data-store="{store}"
 data-last="{last}"{more}><h1>Entry</h1>
<p class="field" data-field><label for="mass">Casting weighs</label>
<input id="mass" data-cell="casting.mass" data-cylinder="0" data-dimension="mass" data-unit="lb"
 data-low="0.02" data-high="200" data-allowed="0.05 to 440 lb"{mass}>
<output data-state></output></p>
<p data-field><label for="tick">Burrs off</label>
<input id="tick" type="checkbox" data-cell="ready.burrs"{tick}><output data-state></output></p>
<p data-field><label for="option">How it came out</label><select id="option" data-cell="out.how">
<option value=""></option><option>pressed</option><option>bored</option></select>
<output data-state></output></p>
<p data-field><label for="day">Waits until</label>
<input id="day" type="date" data-cell="waits.until"><output data-state></output></p>
<p data-field><label for="note">Note</label>
<textarea id="note" data-cell="job.note"></textarea><output data-state></output></p>
<p><label for="find">Find</label><input id="find" type="search"></p>
<div><table data-set="k3f9" data-dimension="length" data-nominal-nm="55000000" data-unit="µm"
 data-entry="size" data-low="0.0545" data-high="0.0555" data-allowed="54.5 to 55.5 mm"
 data-turn-nm="500000" data-turn-words="a 0.5 mm dial" data-doubt-nm="2000">
<caption>Parent bore</caption>{rows}<tr><th>Zero</th><td><input aria-label="Zero at the end"
 data-zero data-cell="set/k3f9/zero-end" data-nominal-nm="" data-low="-0.0005" data-high="0.0005">
<output data-state></output></td></tr></table></div>
<div data-echo tabindex="-1"><b data-echo-figure></b> <span data-echo-unit></span>
<span data-echo-words></span> <span data-echo-size></span>
<button class="press" type="button" data-press="take-back">Take back</button></div>
<p><button class="press" type="button" id="pressed">Next</button>
<button class="press" type="button" data-happened="wipe" data-result="clean">Wiped</button></p>
<form data-begin-set data-stage="parent"><input name="feature" value="parent-bore">
<input name="nominal" value="55.000 mm"><input name="stations" value="10 mm; 60 mm">
<input name="directions" value="0 deg; 90 deg"><input name="blank" value="[[1, 1]]">
<input name="last_digits" value="3"><button class="press">Begin</button></form>
<div data-part="answers">{answers}</div><section data-unsent></section>
<p data-waiting role="status" aria-live="polite"></p></main></body></html>"""


class Switches:
    """What the tests make the bench do, in a file that both sides read."""

    usual: dict[str, Any] = {"store": "store-one", "frozen_until": 0.0, "refuse": False}  # noqa: RUF012 - never changed

    def __init__(self, path: Path) -> None:
        self.path = path

    def __getitem__(self, name: str) -> Any:
        """The switch as it stands now."""
        return json.loads(self.path.read_text())[name]

    def set(self, **values: Any) -> None:
        """Change some; the file is whole at every moment."""
        known = json.loads(self.path.read_text()) if self.path.exists() else {}
        fresh = self.path.with_suffix(".new")
        fresh.write_text(json.dumps(known | values))
        fresh.replace(self.path)


class Bench:
    """Records in a file, and what the tests make the bench do."""

    def __init__(self, switches: Switches) -> None:
        self.switches = switches
        self.changed = threading.Condition()
        self.statics = StaticFiles()

    def opened(self, path: str = "") -> sqlite3.Connection:
        """A connection of its own for each use."""
        base = sqlite3.connect(path or self.switches["records"], timeout=30.0)
        base.execute("PRAGMA synchronous = FULL")
        base.execute(
            "CREATE TABLE IF NOT EXISTS record (number INTEGER PRIMARY KEY, id TEXT UNIQUE, "
            "device TEXT, n INTEGER, kind TEXT, body TEXT)"
        )
        return base

    def records(self, after: int = 0) -> list[dict[str, Any]]:
        """Records after a number, as they go over the wire."""
        base = self.opened()
        query = "SELECT number, id, device, n, kind, body FROM record WHERE number > ?"
        rows = base.execute(f"{query} ORDER BY number", (after,)).fetchall()
        base.close()
        return [
            {
                "number": row[0], "id": row[1], "device": row[2], "n": row[3],
                "received": "2026-01-01T00:00:00.000Z", "kind": row[4], "version": 1,
                "body": json.loads(row[5]),
            }
            for row in rows
        ]  # fmt: skip

    def last(self) -> int:
        """Number of the last record."""
        found = self.records()
        return found[-1]["number"] if found else 0

    def take(self, path: str, device: str, entries: list[dict[str, Any]]) -> list[dict[str, Any]]:
        """Insert or ignore, in the device's order; each answer after the commit."""
        answers = []
        base = self.opened(path)
        for one in sorted(entries, key=lambda entry: entry["n"]):
            refused = held_text(one)
            if refused:
                answers.append({"id": one["id"], "state": "held", "text": refused})
                continue
            row = (one["id"], device, one["n"], one["kind"], json.dumps(one["body"]))
            base.execute(
                "INSERT OR IGNORE INTO record (id, device, n, kind, body) VALUES (?,?,?,?,?)", row
            )
            found = base.execute("SELECT number FROM record WHERE id = ?", (one["id"],)).fetchone()
            answers.append({"id": one["id"], "state": "kept", "number": found[0]})
        base.commit()
        base.close()
        with self.changed:
            self.changed.notify_all()
        return answers

    def page(self, job: str, query: dict[str, list[str]]) -> str:
        """The page of entry; what stands in the file stands in its cells."""
        told = {}
        for record in self.records():
            if record["kind"] == "value":
                told[record["body"]["cell"]] = record
        stations, directions = int(query.get("rows", ["10"])[0]), 5

        def stands(cell: str) -> str:
            record = told.get(cell)
            if record is None:
                return ""
            return f' data-told="{record["body"]["text"]}" data-told-ids="{record["id"]}"'

        rows = "".join(
            f"<tr><th scope=row>{down}</th>"
            + "".join(
                f'<td><input aria-label="{down}, {across}" data-cell="set/k3f9/{down}/{across}"'
                f"{stands(f'set/k3f9/{down}/{across}')}><output data-state></output></td>"
                for across in range(directions)
            )
            + "</tr>"
            for down in range(stations)
        )
        hearing, between = (query.get(name, [""])[0] for name in ("hearing", "between"))
        more = f' data-hearing="{hearing}"' if hearing else ""
        more += f' data-wedge-between="{between}"' if between else ""
        return PAGE.format(
            static=f"/static/{self.statics.version}", job=job, rows=rows,
            store=self.switches["store"], last=self.last(), mass=stands("casting.mass"),
            tick=stands("ready.burrs"), answers=f"<p>{self.last()} records</p>",
            more=more,
        )  # fmt: skip


def held_text(entry: dict[str, Any]) -> str:
    """Why this bench holds an entry back; empty where it takes it."""
    body = entry["body"]
    if entry["kind"] != "value" or not body.get("text", "").strip():
        return ""
    if body["cell"] == "casting.mass":
        try:
            said = parse(body["text"], field="mass", dimension=Dimension.MASS, unit="lb")
        except InputError as refused:
            return str(refused)
        if said.value > 100.0:
            return "Casting weighs: that is more than this bench lifts; allowed is 220 lb."
    return ""


class Handler(BaseHTTPRequestHandler):
    """Answers one connection; its bench hangs on the class of the server's own."""

    bench: Bench
    protocol_version = "HTTP/1.1"

    def log_message(self, *_: object) -> None:
        """Say nothing; the tests look at what was stored."""

    def answer(self, status: int, text: str | bytes, media: str = "application/json") -> None:
        """One whole answer with the headers of the bench."""
        content = text.encode() if isinstance(text, str) else text
        self.send_response(status)
        own = {"Content-Type": media, "Cache-Control": "no-store"}
        for name, value in (HEADERS | own).items():
            self.send_header(name, value)
        self.send_header("Content-Length", str(len(content)))
        self.end_headers()
        self.wfile.write(content)

    def frozen(self) -> None:
        """Wait as long as the tests have the bench frozen."""
        while time.time() < self.bench.switches["frozen_until"]:
            time.sleep(0.05)

    def do_POST(self) -> None:
        """Records in."""
        told = json.loads(self.rfile.read(int(self.headers["Content-Length"])))
        ids = [one["id"] for one in told["entries"]]
        # Noted as it comes: after a thaw a later delivery may overtake an earlier one, and
        # one that was given up may come to its turn when the next test has a file of its own.
        path = self.bench.switches["records"]
        with Path(f"{path}.posts").open("a") as posts:
            posts.write(json.dumps(ids) + "\n")
        self.frozen()
        if self.bench.switches["refuse"]:
            self.answer(503, json.dumps({"text": "The disk is full; nothing was taken."}))
            return
        answers = self.bench.take(path, told["device"], told["entries"])
        last = {one["job"]: self.bench.last() for one in told["entries"]}
        document = {"store": self.bench.switches["store"], "answers": answers, "last": last}
        self.answer(200, json.dumps(document))

    def do_GET(self) -> None:
        """Pages, files, records and streams."""
        self.frozen()
        asked = urlparse(self.path)
        query = parse_qs(asked.query)
        parts = asked.path.strip("/").split("/")
        if parts[0] == "static":
            found = self.bench.statics.find("/".join(parts[2:]))
            if found is None:
                self.answer(404, "{}")
            else:
                self.answer(200, found.content, found.media_type)
        elif parts[0] == "api" and parts[-1] == "stream":
            self.stream(int(query.get("after", ["0"])[0]))
        elif parts[0] == "api":
            self.polled(int(query["after"][0]), float(query.get("wait", ["0"])[0]))
        elif "part" in query:
            self.answer(200, f"<p>{self.bench.last()} records</p>", "text/html; charset=utf-8")
        else:
            job = parts[1] if len(parts) > 1 else "J-31"
            self.answer(200, self.bench.page(job, query), "text/html; charset=utf-8")

    def polled(self, after: int, wait: float) -> None:
        """A long poll."""
        found = self.waited(after, wait)
        last = found[-1]["number"] if found else after
        store = self.bench.switches["store"]
        self.answer(
            200, json.dumps({"store": store, "last": last, "missing": {}, "records": found})
        )

    def waited(self, after: int, seconds: float) -> list[dict[str, Any]]:
        """Records after a number, as soon as there are any."""
        until = time.monotonic() + seconds
        with self.bench.changed:
            found = self.bench.records(after)
            while not found and time.monotonic() < until:
                self.bench.changed.wait(min(0.5, until - time.monotonic()))
                found = self.bench.records(after)
        return found

    def stream(self, after: int) -> None:
        """Server-sent events until the page goes."""
        self.send_response(200)
        self.send_header("Content-Type", "text/event-stream")
        self.send_header("Connection", "close")
        self.end_headers()
        self.close_connection = True
        head = {"store": self.bench.switches["store"], "last": self.bench.last()}
        text = f"event: store\ndata: {json.dumps(head)}\n\n"
        last = after
        try:
            while True:
                self.wfile.write(text.encode())
                self.wfile.flush()
                found = self.waited(last, 1.0)
                last = found[-1]["number"] if found else last
                text = "".join(f"id: {one['number']}\ndata: {json.dumps(one)}\n\n" for one in found)
                text = text or ": quiet\n\n"
        except OSError:
            return


class Running:
    """A bench in a process of its own, which can be killed and started again."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.switches = Switches(folder / "switches.json")
        self.records = folder / "none.db"
        self.port = 0
        self.process: subprocess.Popen[bytes] | None = None
        self.afresh("first")
        self.start()

    @property
    def address(self) -> str:
        """Where it answers."""
        return f"http://127.0.0.1:{self.port}"

    def afresh(self, name: str) -> None:
        """An empty file and no trouble, for the next test."""
        self.records = self.folder / f"{name}.db"
        self.switches.set(**Switches.usual, records=str(self.records))

    def start(self) -> None:
        """Begin to answer, on the same port as before."""
        listening = socket.socket()
        listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        listening.bind(("127.0.0.1", self.port))
        listening.listen(64)
        self.port = listening.getsockname()[1]
        number = listening.fileno()
        command = [sys.executable, __file__, str(self.switches.path), str(number)]
        self.process = subprocess.Popen(command, pass_fds=(number,))
        listening.close()

    def kill(self) -> None:
        """End it as a power cut would end a process."""
        assert self.process is not None
        self.process.kill()
        self.process.wait()

    def freeze(self, seconds: float) -> None:
        """Answer nothing for a while."""
        self.switches.set(frozen_until=time.time() + seconds)

    def rows(self) -> list[tuple[Any, ...]]:
        """What it has kept: id, device, the device's number, cell, text."""
        if not self.records.exists():
            return []
        base = sqlite3.connect(self.records)
        rows = base.execute("SELECT id, device, n, kind, body FROM record ORDER BY number")
        found = [
            (row[0], row[1], row[2], (body := json.loads(row[4])).get("cell"), body.get("text"))
            for row in rows.fetchall()
        ]
        base.close()
        return found

    def posts(self) -> list[list[str]]:
        """Ids of each delivery that reached it."""
        lines = Path(f"{self.records}.posts").read_text().splitlines()
        return [json.loads(line) for line in lines]

    def forget(self, after: int) -> None:
        """Lose the newest records, as a bench restored from an older backup has."""
        base = sqlite3.connect(self.records)
        base.execute("DELETE FROM record WHERE number > ?", (after,))
        base.commit()
        base.close()


def serve(switches: Path, number: int) -> None:
    """The process of the bench: answers until it is ended."""
    handler = type("OwnHandler", (Handler,), {"bench": Bench(Switches(switches))})
    server = ThreadingHTTPServer(("127.0.0.1", 0), handler, bind_and_activate=False)
    server.socket.close()
    server.socket = socket.socket(fileno=number)
    server.daemon_threads = True
    server.serve_forever(poll_interval=0.05)


if __name__ == "__main__":
    parent = os.getppid()

    def watch() -> None:
        """Go when the tests have gone."""
        while os.getppid() == parent:
            time.sleep(1.0)
        os._exit(0)

    threading.Thread(target=watch, daemon=True).start()
    serve(Path(sys.argv[1]), int(sys.argv[2]))
