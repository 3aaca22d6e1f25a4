"""Prints colours as Little CMS converts them to sRGB, for every profile of a folder:

    python3 profiles.py ../shared/photos/icc/profiles > profiles.tsv

needs transicc of Debian's liblcms2-utils. One row: profile, what goes in
(0..255, inks in per cent), and red, green and blue of 0..255 as they come out,
clipped."""
import os
import subprocess
import sys

RGB = ["200 100 50", "30 60 90", "128 128 128", "250 240 20", "10 200 120", "5 8 3", "255 255 255", "240 10 230"]
GREY = ["20", "80", "128", "200", "255"]
INKS = ["10 60 80 5", "80 40 10 20", "0 0 0 0", "0 0 0 100", "75 68 67 90", "20 15 15 0"]
KINDS = {b"RGB ": RGB, b"GRAY": GREY, b"CMYK": INKS}

folder = sys.argv[1]
for name in sorted(os.listdir(folder)):
    if not name.endswith(".icc"):
        continue
    path = os.path.join(folder, name)
    with open(path, "rb") as f:
        colours = KINDS[f.read(20)[16:20]]
    said = subprocess.run(["transicc", "-n", "-i" + path, "-o*sRGB", "-t1", "-b", "-c0"],
                          input="\n".join(c.replace(" ", "\n") for c in colours) + "\n",
                          capture_output=True, text=True).stdout
    rows = [line.split() for line in said.splitlines() if len(line.split()) == 3]
    if len(rows) != len(colours):
        sys.exit(f"{name}: {said}")
    for given, row in zip(colours, rows):
        out = " ".join(f"{min(255, max(0, float(v))):.2f}" for v in row)
        print(name.removesuffix(".icc"), given, out, sep="\t")
