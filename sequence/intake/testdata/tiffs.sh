#!/bin/sh
# Prints what libtiff says of how each TIFF below a folder stores its first picture:
# a line a file, its path and the words, with a tab between. The words are those of
# tiffinfo, and "Old-style LZW codes" where it warns of them while reading; of tiles
# that stand in the list of strips only tiffdump tells.
#
#   LC_ALL=C sh tiffs.sh ../../../../shared/photos > tiffs.tsv   (libtiff-tools 4.5.0)
cd "$1" || exit 1
find . -iname '*.tif' -o -iname '*.tiff' | sort | while read -r file; do
	printf '%s\t' "${file#./}"
	tiffinfo -0 "$file" 2>/dev/null | awk '
		/^=== TIFF directory/ && ++directories > 1 { exit }
		/Image Width|Tile Width|Bits\/Sample|Sample Format|Compression Scheme|Photometric Interpretation|Samples\/Pixel|Extra Samples|Planar Configuration/ {
			gsub(/^ +| +$/, ""); gsub(/ +/, " "); out = out sep $0; sep = "; "
		}
		END { printf "%s", out }'
	tiffinfo -0 -d "$file" 2>&1 >/dev/null | grep -q 'Old-style LZW codes' && printf '; Old-style LZW codes'
	tags=$(tiffdump "$file" 2>/dev/null)
	case $tags in *TileWidth*) case $tags in *TileOffsets*) ;; *) printf '; tiles in StripOffsets' ;; esac ;; esac
	echo
done
