#!/usr/bin/env python3
"""Prints the peak memory of the whole program, server and workers together,
while it brings in a folder.

    python3 memory.py PROGRAM FOLDER

PROGRAM is pairwall as built. Every 20 ms the resident sizes of the process and
of all below it are added up (Linux): RSS counts pages that several share for
each of them, PSS shares them out.
"""
import json, os, subprocess, sys, tempfile, time, urllib.request


def tree(root):
    children = {}
    for name in os.listdir("/proc"):
        if name.isdigit():
            try:
                with open(f"/proc/{name}/stat") as f:
                    parent = int(f.read().rpartition(")")[2].split()[1])
                children.setdefault(parent, []).append(int(name))
            except (OSError, ValueError):
                pass
    found, waiting = [], [root]
    while waiting:
        pid = waiting.pop()
        found.append(pid)
        waiting += children.get(pid, [])
    return found


def sizes(pids):
    rss = pss = 0
    for pid in pids:
        try:
            with open(f"/proc/{pid}/smaps_rollup") as f:
                for line in f:
                    if line.startswith("Rss:"):
                        rss += int(line.split()[1])
                    elif line.startswith("Pss:"):
                        pss += int(line.split()[1])
        except OSError:
            pass
    return rss, pss


def call(address, method, path, body=None):
    request = urllib.request.Request(address + path, method=method, data=body and json.dumps(body).encode(),
                                     headers={"Content-Type": "application/json", "Pairwall-Window": "memory"})
    with urllib.request.urlopen(request) as answer:
        return json.load(answer)


def main(program, folder):
    data = tempfile.mkdtemp()
    address = "127.0.0.1:%d" % (20000 + os.getpid() % 20000)
    server = subprocess.Popen([program, "--data", data, "--listen", address, "--no-browser"],
                              stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    at = "http://" + address
    try:
        for _ in range(200):
            try:
                title = call(at, "POST", "/api/titles", {"name": "Memory"})["id"]
                break
            except OSError:
                time.sleep(0.05)
        idle = sizes(tree(server.pid))
        job = call(at, "POST", f"/api/titles/{title}/brings", {"folders": [os.path.abspath(folder)]})["id"]
        peak, asked, began = [0, 0], 0, time.time()
        while True:
            now = sizes(tree(server.pid))
            peak = [max(a, b) for a, b in zip(peak, now)]
            if time.time() - asked > 0.5:
                asked = time.time()
                bring = next(b for b in call(at, "GET", f"/api/titles/{title}")["brings"] if b["id"] == job)
                if bring["state"] != "running":
                    break
            time.sleep(0.02)
        print(f"{bring['read']} photos, {bring['refused']} refused, {time.time() - began:.1f} s: idle {idle[0] >> 10} MB, "
              f"peak {peak[0] >> 10} MB RSS, {peak[1] >> 10} MB PSS")
    finally:
        server.terminate()
        server.wait()
        subprocess.run(["rm", "-rf", data])


main(*sys.argv[1:])
