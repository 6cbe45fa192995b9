package main

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"

	"dullred/schedule"
	"dullred/schedule/newfile"
)

// copied is what became of the photos that an export refers to.
type copied struct {
	Folder  string   `json:"folder"`
	Photos  []string `json:"photos"`  // files as they are called there
	Missing []string `json:"missing"` // files that are not where they were
	Left    []string `json:"left"`    // what does not begin as a picture does
}

func (c *copied) say(h *headed) {
	h.line("photos", "%d in %s", len(c.Photos), brief(c.Folder))
	for _, path := range c.Missing {
		h.line("missing", "%s is not there any more", brief(path))
	}
	for _, path := range c.Left {
		h.line("left", "%s is no picture", brief(path))
	}
}

// copyPhotos copies the photos of rows into a folder, which it makes. Numbers of a
// camera are no files and are left; a photo that is not there any more is said, and
// does not stop the others. What is no picture is left: the record that names it may be
// another's, and is not to gather what lies on this machine. A file that is in the folder
// already is never written over.
func copyPhotos(folder string, rows []schedule.Row) (*copied, error) {
	if err := os.MkdirAll(folder, 0o700); err != nil {
		return nil, photoFault(folder, err)
	}
	done := &copied{Folder: folder, Photos: []string{}, Missing: []string{}, Left: []string{}}
	for _, path := range photoFiles(rows) {
		name, err := copyPhoto(folder, path)
		switch {
		case err == nil:
			done.Photos = append(done.Photos, name)
		case errors.Is(err, fs.ErrNotExist):
			done.Missing = append(done.Missing, path)
		case errors.Is(err, errNoPicture):
			done.Left = append(done.Left, path)
		default:
			return nil, photoFault(folder, err)
		}
	}
	return done, nil
}

func photoFault(folder string, err error) error {
	return &fault{Err: fmt.Errorf("the photos do not go into %.200q: %s", folder, shorten(err.Error())), Code: exitRefused,
		Kept: "the export was written, and the record is as it was", Do: "name another folder with --photos"}
}

// photoFiles are the files that rows refer to, each once: a photo of a file is kept by
// its whole path. What was taken back is not theirs any more.
func photoFiles(rows []schedule.Row) (paths []string) {
	entries := schedule.DecodeAll(rows)
	dead := schedule.Voided(entries)
	for _, e := range entries {
		photo, ok := e.Body.(schedule.Photo)
		if ok && !dead[e.ID] && filepath.IsAbs(photo.Ref) && !slices.Contains(paths, photo.Ref) {
			paths = append(paths, photo.Ref)
		}
	}
	return paths
}

var errNoPicture = errors.New("it is no picture")

// copyPhoto copies one file under its own name, numbered where another has it, and
// gives the name. A copy that is there already, byte for byte, is that copy.
func copyPhoto(folder, path string) (string, error) {
	if info, err := os.Stat(path); err != nil || !info.Mode().IsRegular() {
		return "", cmp.Or(err, errNoPicture) // a pipe would be waited for
	}
	from, err := os.Open(path)
	if err != nil {
		return "", err
	}
	defer from.Close()
	if is, err := beginsAsPicture(from); err != nil || !is {
		return "", cmp.Or(err, errNoPicture)
	}
	for n := 1; ; n++ {
		name := numberedName(filepath.Base(path), n)
		target := filepath.Join(folder, name)
		err := newfile.Write(target, func(w io.Writer) error { return copyWhole(w, from) })
		if !errors.Is(err, fs.ErrExist) {
			return name, err
		}
		if sameBytes(path, target) {
			return name, nil
		}
	}
}

func copyWhole(w io.Writer, from io.ReadSeeker) error {
	if _, err := from.Seek(0, io.SeekStart); err != nil {
		return err
	}
	_, err := io.Copy(w, from)
	return err
}

// numberedName is a file name with a number before its ending, from the second on.
func numberedName(name string, n int) string {
	if n == 1 {
		return name
	}
	ending := filepath.Ext(name)
	return fmt.Sprintf("%s-%d%s", name[:len(name)-len(ending)], n, ending)
}

// sameBytes reports whether two files hold the same.
func sameBytes(one, other string) bool {
	a, errA := os.ReadFile(one)
	b, errB := os.ReadFile(other)
	return errA == nil && errB == nil && string(a) == string(b)
}
