"""What Python's own XML parser (expat) finds in a folder of GPX files.

    python3 counts.py FOLDER > counts.tsv
"""

import glob
import os
import sys
import xml.etree.ElementTree as ElementTree


def local(element):
    return element.tag.split("}")[-1]


def children(element, name):
    return [child for child in element if local(child) == name]


def row(file, kind, name, segments, points):
    times = sorted(t.text for p in points for t in children(p, "time") if t.text)
    print(file, kind, name, segments, len(points), len(times),
          times[0] if times else "", times[-1] if times else "", sep="\t")


print("file\tkind\tname\tsegments\tpoints\ttimes\tearliest\tlatest")
for path in sorted(glob.glob(os.path.join(sys.argv[1], "*.gpx"))):
    file, root = os.path.basename(path), ElementTree.parse(path).getroot()
    for track in children(root, "trk"):
        segments = children(track, "trkseg")
        name = "".join(n.text or "" for n in children(track, "name")).strip()
        row(file, "track", name, len(segments), [p for s in segments for p in children(s, "trkpt")])
    row(file, "routes", "", 0, [p for r in children(root, "rte") for p in children(r, "rtept")])
    row(file, "waypoints", "", 0, children(root, "wpt"))
