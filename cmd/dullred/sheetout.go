package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"dullred/cmd/internal/say"
	"dullred/schedule/newfile"
	"dullred/schedule/sheet"
)

// sheetFormat is how sheets are written.
type sheetFormat struct {
	end  string // of the name of a file
	one  func(sheet.Sheet) ([]byte, error)
	many func([]sheet.Sheet) ([]byte, error) // nil where a file holds one
}

var sheetFormats = map[string]*sheetFormat{
	"text": {"txt", func(s sheet.Sheet) ([]byte, error) { return []byte(s.Text()), nil }, sheetTexts},
	"html": {"html", sheet.Sheet.HTML, sheet.Pages},
	"pdf":  {"pdf", sheet.Sheet.PDF, sheet.PDFPages},
	"csv":  {"csv", sheet.Sheet.CSV, nil},
	"json": {"json", sheet.Sheet.JSON, sheetList},
}

// sheetTexts is texts below each other, with two empty lines between.
func sheetTexts(all []sheet.Sheet) ([]byte, error) {
	var out bytes.Buffer
	for i, s := range all {
		if i > 0 {
			out.WriteString("\n\n")
		}
		out.WriteString(s.Text())
	}
	return out.Bytes(), nil
}

// sheetList is a list of what JSON writes of each.
func sheetList(all []sheet.Sheet) ([]byte, error) {
	list := []json.RawMessage{}
	for _, s := range all {
		one, err := s.JSON()
		if err != nil {
			return nil, err
		}
		list = append(list, one)
	}
	return say.JSON(list, "  ")
}

// sheetsOut prints sheets. A piece that was named alone is no list.
func (a *app) sheetsOut(made []sheet.Sheet, f sheetFlags, alone bool) error {
	form := sheetFormats[f.format]
	if !alone && form.many == nil && len(made) > 1 {
		return refuse("write a file for each: --into DIR", "%d pieces do not go into one %s", len(made), f.format)
	}
	out, err := []byte(nil), error(nil)
	if alone || form.many == nil {
		out, err = form.one(made[0])
	} else {
		out, err = form.many(made)
	}
	if err != nil {
		return err
	}
	_, err = a.out.Write(out)
	return err
}

// sheetFile is a file that was written.
type sheetFile struct {
	Piece string `json:"piece"`
	File  string `json:"file"`
	data  []byte
}

// sheetsInto writes a file for each piece. All are made before the first is written,
// and none is where one of the names is taken.
func (a *app) sheetsInto(made []sheet.Sheet, f sheetFlags) error {
	form := sheetFormats[f.format]
	var names fileNames
	var files []sheetFile
	for _, s := range made {
		data, err := form.one(s)
		if err != nil {
			return err
		}
		file := sheetFile{s.Name, filepath.Join(f.into, names.next(s.Name, form.end)), data}
		if _, err := os.Lstat(file.File); err == nil && !f.force {
			return sheetThere(file.File)
		}
		files = append(files, file)
	}
	if err := os.MkdirAll(f.into, 0o755); err != nil {
		return sheetFault(err, 0)
	}
	for i, file := range files {
		if err := file.write(f.force); err != nil {
			return sheetFault(err, i)
		}
	}
	text := ""
	for _, file := range files {
		text += clean(file.Piece) + ": " + clean(file.File) + "\n"
	}
	return a.answer(files, text)
}

func sheetThere(file string) error {
	return &fault{Err: fmt.Errorf("%.200q is there already", file), Code: exitRefused, Kept: "no file was written",
		Do: "give --force to write it anew, or another folder"}
}

// sheetFault is an error of the n-th file.
func sheetFault(err error, n int) error {
	kept := "no file was written"
	if n > 0 {
		kept = fmt.Sprintf("%d files were written before it", n)
	}
	return &fault{Err: errors.New(shorten(err.Error())), Code: exitRefused, Kept: kept, Do: "name a folder that you may write with --into"}
}

// write makes the file whole or not at all. Where one is there, by force, the new one
// takes its place at once.
func (s sheetFile) write(force bool) error {
	fill := func(w io.Writer) error {
		_, err := w.Write(s.data)
		return err
	}
	if !force {
		return newfile.Write(s.File, fill)
	}
	if info, err := os.Lstat(s.File); err == nil && !info.Mode().IsRegular() {
		return fmt.Errorf("%s is no plain file", s.File)
	}
	return newfile.Replace(s.File, fill)
}
