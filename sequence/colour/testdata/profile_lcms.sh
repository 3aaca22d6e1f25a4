#!/bin/sh
# Has Little CMS read our profile: sh profile_lcms.sh profile.icc > profile_lcms.csv
# Needs transicc (Debian package liblcms2-utils, 2.14). Run in this folder.
# Each colour of srgb_lab_reference.csv, then a lattice in steps of 51, goes
# through the profile to Lab (D50), relative colorimetric.
set -e
work=$(mktemp -d)
{
	tail -n +2 srgb_lab_reference.csv | cut -d, -f1-3
	for r in 0 51 102 153 204 255; do for g in 0 51 102 153 204 255; do for b in 0 51 102 153 204 255; do
		echo "$r,$g,$b"
	done; done; done
} > "$work/pixels"
tr ',' ' ' < "$work/pixels" | transicc -v0 -t1 -i"$1" -o'*Lab4' 2> "$work/notes" | sed '/^ *$/d; s/ *$//; s/ /,/g' > "$work/lab"
echo "r,g,b,L,a,b"
paste -d, "$work/pixels" "$work/lab"
echo "sha256,$(sha256sum "$1" | cut -d' ' -f1),,,,"
rm -r "$work"
