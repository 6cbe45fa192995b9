package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"github.com/adrg/xdg"
	"github.com/spf13/cobra"

	"dullred/alloys"
)

// metals is the embedded book with the smith's own alloys beside it.
func (a *app) metals() (*alloys.Book, error) {
	if err := a.readOwn(); err != nil {
		return nil, err
	}
	return alloys.Default().With(a.own), nil
}

// readOwn reads the smith's own alloys once, from dullred/alloys.csv in the XDG
// config folder. Without that file there are none, and with a bad one no command
// goes on.
func (a *app) readOwn() error {
	if a.own != nil {
		return nil
	}
	own, err := ownFrom(filepath.Join(xdg.ConfigHome, "dullred", "alloys.csv"))
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	a.own = own
	return err
}

func ownFrom(path string) (*alloys.Book, error) {
	if info, err := os.Stat(path); err == nil && !info.Mode().IsRegular() && !info.IsDir() {
		return nil, refuse("move it away", "%.200q is no plain file", path) // a pipe would be waited for
	}
	file, err := os.Open(path)
	if err != nil {
		return nil, refuse("make it a file that you may read", "your own alloys cannot be read: %w", err)
	}
	own, err := alloys.ReadOwn(path, file)
	if err = errors.Join(err, file.Close()); err != nil {
		return nil, err
	}
	return own, nil
}

func (a *app) alloysCheckCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "check FILE",
		Short: "check a file of your own alloys before it is put in its place",
		Long: `A file of your own alloys holds the tables that dullred is built with, in the
same format; each begins at its head row:

  id,name,uns,fineness,names,family,composition,self_softening
  alloy,property,form,condition,school,at,at_kind,low,high,bound,unit,use,source,confidence,note
  alloy,kind,text,use,source,confidence
  key,author,title,year,locator
  id,name,names,composition,hazard

Blank lines and lines that begin with # say nothing. Once it is right, put it at
dullred/alloys.csv in your XDG config folder (usually ~/.config).`,
		Args: names("FILE"),
		RunE: func(_ *cobra.Command, args []string) error { return a.checkOwn(args[0]) },
	}
}

func (a *app) checkOwn(path string) error {
	own, err := ownFrom(path)
	if err != nil {
		return err
	}
	metals, solders, figures := len(own.All()), len(own.Solders()), own.Figures()
	if a.json {
		return a.printJSON(struct {
			Alloys  int `json:"alloys"`
			Solders int `json:"solders"`
			Figures int `json:"figures"`
		}{metals, solders, figures})
	}
	a.printf("%s", wrap("", "  ", clean(path)+" can be used: "+counted(metals, "metal")+", "+counted(solders, "solder")+", "+counted(figures, "figure")))
	return nil
}

// counted is a number of things: "1 metal", "2 metals".
func counted(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}
