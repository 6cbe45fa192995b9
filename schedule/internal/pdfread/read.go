// Package pdfread reads back the PDF files that the tests make, by the published
// format (ISO 32000-1:2008) and without the library that wrote them.
//
// It knows what such files use and no more: one table of objects (7.5.4), streams that
// are plain or deflated (7.4.4), text in UTF-16 (9.4.3), letters and lines. Whatever
// else stands in a page is an error.
package pdfread

import (
	"bytes"
	"compress/zlib"
	"fmt"
	"io"
	"regexp"
	"strconv"
)

// File is a file read back.
type File struct {
	Title string // of the information dictionary
	Dicts string // all that stands outside of streams and strings, where an action would
	Pages []Page
}

// object is one object: what stands before its stream, and the stream inflated.
type object struct {
	dict   []byte
	stream []byte
}

var (
	startxref = regexp.MustCompile(`startxref\n(\d+)\n%%EOF\n?$`)
	section   = regexp.MustCompile(`^xref\n0 (\d+)\n`)
	entry     = regexp.MustCompile(`^(\d{10}) \d{5} ([fn]) ?\r?\n?`)
	length    = regexp.MustCompile(`/Length (\d+)`)
	contents  = regexp.MustCompile(`/Type /Page\n(?s:.*)/Contents (\d+) 0 R`)
	kids      = regexp.MustCompile(`/Kids \[([\d R]*)\]`)
	kid       = regexp.MustCompile(`(\d+) 0 R`)
	title     = regexp.MustCompile(`/Title \(((?s:\\.|[^\\)])*)\)`)
	literal   = regexp.MustCompile(`\((?s:\\.|[^\\)])*\)`)
)

// Read reads a file.
func Read(file []byte) (f File, err error) {
	objects, err := objectsOf(file)
	if err != nil {
		return f, err
	}
	for _, o := range objects {
		f.Dicts += literal.ReplaceAllString(string(o.dict), "()") + "\n"
		if m := title.FindSubmatch(o.dict); m != nil {
			f.Title = utf16Of(unescaped(m[1]))
		}
	}
	root := kids.FindSubmatch(objects[1].dict)
	if root == nil {
		return f, fmt.Errorf("no pages")
	}
	for _, k := range kid.FindAllSubmatch(root[1], -1) {
		m := contents.FindSubmatch(objects[number(k[1])].dict)
		if m == nil {
			return f, fmt.Errorf("page %s has no contents", k[1])
		}
		p, err := pageOf(objects[number(m[1])].stream)
		if err != nil {
			return f, err
		}
		f.Pages = append(f.Pages, p)
	}
	return f, nil
}

// objectsOf follows the table at the end of the file.
func objectsOf(file []byte) (map[int]object, error) {
	at := startxref.FindSubmatch(file)
	if at == nil {
		return nil, fmt.Errorf("no startxref at the end")
	}
	table := file[number(at[1]):]
	head := section.FindSubmatch(table)
	if head == nil {
		return nil, fmt.Errorf("no table of objects at %s", at[1])
	}
	rest, objects := table[len(head[0]):], map[int]object{}
	for n := range number(head[1]) {
		m := entry.FindSubmatch(rest)
		if m == nil {
			return nil, fmt.Errorf("entry %d of the table is %.20q", n, rest)
		}
		rest = rest[len(m[0]):]
		if string(m[2]) == "f" {
			continue
		}
		o, err := objectAt(file[number(m[1]):], n)
		if err != nil {
			return nil, fmt.Errorf("object %d: %w", n, err)
		}
		objects[n] = o
	}
	return objects, nil
}

func objectAt(from []byte, n int) (o object, err error) {
	body, ok := bytes.CutPrefix(from, fmt.Appendf(nil, "%d 0 obj\n", n))
	if !ok {
		return o, fmt.Errorf("is not where the table says")
	}
	end := bytes.Index(body, []byte("endobj"))
	start := bytes.Index(body, []byte(">>\nstream\n"))
	if start < 0 || start > end {
		return object{dict: body[:end]}, nil
	}
	o.dict = body[:start+2]
	m := length.FindSubmatch(o.dict)
	if m == nil {
		return o, fmt.Errorf("a stream without a length")
	}
	o.stream = body[start+len(">>\nstream\n"):][:number(m[1])]
	if bytes.Contains(o.dict, []byte("/FlateDecode")) {
		o.stream, err = inflated(o.stream)
	}
	return o, err
}

func inflated(packed []byte) ([]byte, error) {
	r, err := zlib.NewReader(bytes.NewReader(packed))
	if err != nil {
		return nil, err
	}
	return io.ReadAll(r)
}

// number of digits that an expression has matched.
func number(digits []byte) int {
	n, _ := strconv.Atoi(string(digits))
	return n
}
