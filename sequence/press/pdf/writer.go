package pdf

import (
	"bytes"
	"compress/zlib"
	"crypto/sha256"
	"fmt"
	"hash"
	"io"
)

// Writer writes one file. Its methods may be called after an error: the first
// one is kept and told by Close.
type Writer struct {
	out     io.Writer
	sum     hash.Hash
	at      int64
	offsets []int64 // by object number less one; 0 while only reserved
	err     error
}

// NewWriter begins a file.
func NewWriter(out io.Writer) *Writer {
	w := &Writer{out: out, sum: sha256.New()}
	// The second line tells programs that move files that this one is binary (7.5.2).
	w.write([]byte("%PDF-1.6\n%\xE2\xE3\xCF\xD3\n"))
	return w
}

// Write counts and hashes what goes out; it serves streams of our own only.
func (w *Writer) Write(b []byte) (int, error) {
	w.write(b)
	return len(b), w.err
}

func (w *Writer) write(b []byte) {
	if w.err != nil {
		return
	}
	n, err := w.out.Write(b)
	w.at += int64(n)
	w.sum.Write(b[:n])
	w.err = err
}

// Reserve gives an object's number before the object itself is written, for
// references forwards.
func (w *Writer) Reserve() Ref {
	w.offsets = append(w.offsets, 0)
	return Ref(len(w.offsets))
}

// Add writes a value as an object of its own.
func (w *Writer) Add(v Value) Ref {
	ref := w.Reserve()
	w.Put(ref, v)
	return ref
}

// Put writes a value as the object reserved before.
func (w *Writer) Put(ref Ref, v Value) {
	w.begin(ref)
	w.write(append(appendValue(nil, v), "\nendobj\n"...))
}

func (w *Writer) begin(ref Ref) {
	if w.offsets[ref-1] != 0 {
		panic(fmt.Sprintf("pdf: object %d is written twice", ref))
	}
	w.offsets[ref-1] = w.at
	w.write(fmt.Appendf(nil, "%d 0 obj\n", ref))
}

// AddStream writes a stream, compressed, with the entries of dict.
func (w *Writer) AddStream(dict Dict, data []byte) Ref {
	ref := w.Reserve()
	w.PutStream(ref, dict, data)
	return ref
}

// PutStream is AddStream for an object reserved before.
func (w *Writer) PutStream(ref Ref, dict Dict, data []byte) {
	var packed bytes.Buffer
	z := zlib.NewWriter(&packed)
	_, err := z.Write(data)
	if err := z.Close(); err != nil && w.err == nil {
		w.err = err
	}
	if err != nil && w.err == nil {
		w.err = err
	}
	dict["Filter"] = Name("FlateDecode")
	w.putRaw(ref, dict, packed.Bytes())
}

func (w *Writer) putRaw(ref Ref, dict Dict, data []byte) {
	dict["Length"] = len(data)
	w.begin(ref)
	w.write(append(appendValue(nil, dict), "\nstream\n"...))
	w.write(data)
	w.write([]byte("\nendstream\nendobj\n"))
}

// AddPlain writes a stream as it is, for readers that look for it without
// reading the rest.
func (w *Writer) AddPlain(dict Dict, data []byte) Ref {
	ref := w.Reserve()
	w.putRaw(ref, dict, data)
	return ref
}

// Digest is a hash of all that was written so far.
func (w *Writer) Digest() []byte { return w.sum.Sum(nil) }

// PipeStream writes a stream as pour gives it, already encoded as dict's Filter
// says. Its length becomes an object of its own, because it is known afterwards.
func (w *Writer) PipeStream(ref Ref, dict Dict, pour func(io.Writer) error) {
	length := w.Reserve()
	dict["Length"] = length
	w.begin(ref)
	w.write(append(appendValue(nil, dict), "\nstream\n"...))
	from := w.at
	if err := pour(w); err != nil && w.err == nil {
		w.err = err
	}
	size := w.at - from
	w.write([]byte("\nendstream\nendobj\n"))
	w.Put(length, size)
}

// Err is the first error so far.
func (w *Writer) Err() error { return w.err }

// Close writes the cross-reference table and the trailer (7.5.4, 7.5.5). The
// file's identifier is a hash of all that stands before it.
func (w *Writer) Close(root, info Ref) error {
	if w.err != nil {
		return w.err
	}
	table := w.at
	w.write(fmt.Appendf(nil, "xref\n0 %d\n0000000000 65535 f \n", len(w.offsets)+1))
	for i, at := range w.offsets {
		if at == 0 {
			panic(fmt.Sprintf("pdf: object %d was promised and never written", i+1))
		}
		w.write(fmt.Appendf(nil, "%010d 00000 n \n", at))
	}
	id := Bytes(w.sum.Sum(nil)[:16])
	trailer := Dict{"Size": len(w.offsets) + 1, "Root": root, "Info": info, "ID": Array{id, id}}
	w.write(append(appendValue([]byte("trailer\n"), trailer), fmt.Sprintf("\nstartxref\n%d\n%%%%EOF\n", table)...))
	return w.err
}
