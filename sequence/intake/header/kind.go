package header

import (
	"bytes"
	"unicode/utf8"
)

// HeadLength is how much of a file Kind wants to see.
const HeadLength = 512

// sign is a run of bytes by which a kind of file can be told.
type sign struct {
	at    int
	bytes string
	kind  string
}

// signs are tried in order, so the longer of two that begin alike comes first.
// The numbers are those of each format's own specification.
var signs = []sign{
	{0, "\xff\xd8\xff", "jpeg"},
	{0, "\x89PNG\r\n\x1a\n", "png"},
	{8, "CR\x02\x00", "camera raw"}, // inside a TIFF header, so before TIFF
	{0, "II*\x00", "tiff"},
	{0, "MM\x00*", "tiff"},
	{0, "II+\x00", "BigTIFF"},
	{0, "MM\x00+", "BigTIFF"},
	{0, "IIRO", "camera raw"},
	{0, "IIRS", "camera raw"},
	{0, "IIU\x00", "camera raw"},
	{0, "MMOR", "camera raw"},
	{0, "FUJIFILMCCD-RAW", "camera raw"},
	{0, "FOVb", "camera raw"},
	{0, "GIF87a", "GIF"},
	{0, "GIF89a", "GIF"},
	{8, "WEBP", "webp"},
	{0, "\x00\x00\x00\x0cjP  \r\n\x87\n", "JPEG 2000"},
	{0, "\xff\x4f\xff\x51", "JPEG 2000"},
	{0, "\x00\x00\x00\x0cJXL \r\n\x87\n", "JPEG XL"},
	{0, "\xff\x0a", "JPEG XL"},
	{0, "8BPS", "layered picture"},
	{0, "\x76\x2f\x31\x01", "HDR picture"},
	{0, "#?RADIANCE", "HDR picture"},
	{0, "%PDF", "PDF"},
	{0, "PK\x03\x04", "archive"},
	{0, "7z\xbc\xaf\x27\x1c", "archive"},
	{0, "\x1f\x8b", "archive"},
	{0, "Rar!", "archive"},
	{8, "AVI ", "video"},
	{8, "WAVE", "sound"},
	{0, "\x1aE\xdf\xa3", "video"},
	{4, "moov", "video"},
	{4, "mdat", "video"},
	{4, "wide", "video"},
	{0, "ID3", "sound"},
	{0, "OggS", "sound"},
	{0, "fLaC", "sound"},
	{0, "<svg", "SVG"},
	{0, "BM", "BMP"},
}

// brands are the major brands of the box format that HEIC, AVIF and most
// videos share (ISO/IEC 14496-12, registered at mp4ra.org).
var brands = map[string]string{
	"heic": "heic", "heix": "heic", "heim": "heic", "heis": "heic",
	"hevc": "heic", "hevx": "heic", "mif1": "heic", "msf1": "heic",
	"avif": "avif", "avis": "avif", "crx ": "camera raw",
}

// Kind tells what a file is from its first bytes, of which it wants 512 when
// there are so many: those in small letters ("jpeg", "png", "tiff", "webp",
// "heic", "avif") are what Read reads; anything else it knows it names as a person
// would ("GIF", "BMP"); "" means that it does not know.
func Kind(head []byte) string {
	if len(head) >= 12 && string(head[4:8]) == "ftyp" {
		return boxKind(head)
	}
	for _, s := range signs {
		if len(head) >= s.at+len(s.bytes) && string(head[s.at:s.at+len(s.bytes)]) == s.bytes {
			return s.kind
		}
	}
	if isText(head) {
		if bytes.Contains(head, []byte("<svg")) {
			return "SVG"
		}
		return "text"
	}
	return ""
}

// boxKind tells by the major brand, and for the two that only say "a picture" by
// the others named after it.
func boxKind(head []byte) string {
	kind, known := brands[string(head[8:12])]
	if !known {
		return "video"
	}
	if major := string(head[8:12]); major == "mif1" || major == "msf1" {
		length := min(int(head[2])<<8|int(head[3]), len(head))
		for at := 16; at+4 <= length; at += 4 {
			if brands[string(head[at:at+4])] == "avif" {
				return "avif"
			}
		}
	}
	return kind
}

// isText reports whether head could be the beginning of a text in UTF-8 or
// plain ASCII; a letter cut in two at its end does not count against it.
func isText(head []byte) bool {
	for len(head) > 0 {
		letter, n := utf8.DecodeRune(head)
		if letter == utf8.RuneError && n == 1 {
			return !utf8.FullRune(head)
		}
		if letter < ' ' && letter != '\n' && letter != '\r' && letter != '\t' && letter != '\f' {
			return false
		}
		head = head[n:]
	}
	return true
}
