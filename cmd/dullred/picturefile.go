package main

import (
	"bytes"
	"errors"
	"io"
)

// pictureMarks are the bytes with which pictures begin, at an offset: what cameras and
// telephones make, and what is made of it. A raw picture of a camera is a TIFF or one of
// the boxes that HEIF, AVIF and CR3 are kept in.
var pictureMarks = []struct {
	at   int
	mark string
}{
	{0, "\xff\xd8\xff"},      // JPEG
	{0, "\x89PNG\r\n\x1a\n"}, // PNG
	{0, "GIF8"},              // GIF
	{0, "BM"},                // BMP
	{8, "WEBP"},              // WebP
	{4, "ftyp"},              // HEIF, AVIF, CR3
	{0, "II*\x00"},           // TIFF and raw pictures, little end first
	{0, "MM\x00*"},           // the same, big end first
}

// beginsAsPicture reports whether what a reader gives begins as a picture does. It reads
// sixteen bytes.
func beginsAsPicture(r io.Reader) (bool, error) {
	head := make([]byte, 16)
	n, err := io.ReadFull(r, head)
	if err != nil && !errors.Is(err, io.EOF) && !errors.Is(err, io.ErrUnexpectedEOF) {
		return false, err
	}
	for _, m := range pictureMarks {
		if m.at <= n && bytes.HasPrefix(head[m.at:n], []byte(m.mark)) {
			return true, nil
		}
	}
	return false, nil
}
