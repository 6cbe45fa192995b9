package record_test

import (
	"fmt"
	"os"
	"path/filepath"

	"dullred/schedule/record"
)

func Example() {
	folder, err := os.MkdirTemp("", "saltmarsh-quay")
	if err != nil {
		fmt.Println(err)
		return
	}
	defer os.RemoveAll(folder)
	r, err := record.Open(filepath.Join(folder, "record.db"))
	if err != nil {
		fmt.Println(err)
		return
	}
	defer r.Close()

	bowl := record.Label{ID: "0197a3c0-5e2b-7000-8000-00000000b001", Class: record.PieceClass, Text: "First bowl"}
	row := record.Row{
		ID: "0197a3c0-5e2b-7000-8000-000000001d07", At: 1_751_000_000_000_000, Written: 1_751_000_000_000_000,
		Piece: bowl.ID, Kind: "measure", Version: 1, Shape: "sheet", Thick: 0.9,
	}
	if err := r.AppendNamed([]record.Label{bowl}, row); err != nil {
		fmt.Println(err)
		return
	}

	id, _, _ := r.LabelID(record.PieceClass, "FIRST BOWL")
	rows, err := r.Piece(id)
	fmt.Println(len(rows), rows[0].Thick, rows[0] == row, err)

	row.Thick = 0.8
	fmt.Println(r.Append(row) != nil)
	// Output:
	// 1 0.9 true <nil>
	// true
}
