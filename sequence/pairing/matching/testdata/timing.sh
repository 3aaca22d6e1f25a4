#!/bin/sh
# Times LEMON and package matching on the same dense graphs, one after the other in
# one run: sh testdata/timing.sh, in the folder of the package. Needs g++ and
# Debian's liblemon-dev.
set -e
tool=$(mktemp)
trap 'rm -f "$tool"' EXIT
g++ -O2 -w -o "$tool" testdata/lemon.cc
echo "LEMON: n, per cent, low, top, seed, total, ms (least of five)"
for n in 100 300 500 1000; do
	printf '%s 100 1 1000000 1\n%s 100 1 100 1\n' $n $n
done | "$tool" time
echo "package matching: 'spread' is the first of each two graphs, 'ties' the second"
go test -run XXX -bench 'MatchDense/n=.*/(spread|ties)' -benchtime 5x . | grep n=
