package sheet

import (
	"fmt"
	"io"

	"github.com/xuri/excelize/v2"
)

// WriteXLSX writes the tree as one worksheet; every cell is text, so that nothing
// in it is taken for a formula or a date.
func WriteXLSX(w io.Writer, s *Sheet) (err error) {
	f := excelize.NewFile()
	defer func() {
		if e := f.Close(); err == nil {
			err = e
		}
	}()
	const name = "Sheet"
	if err := f.SetSheetName(f.GetSheetName(0), name); err != nil {
		return fmt.Errorf("sheet: %w", err)
	}
	text, err := f.NewStyle(&excelize.Style{NumFmt: 49, Alignment: &excelize.Alignment{WrapText: true, Vertical: "top"}})
	if err != nil {
		return fmt.Errorf("sheet: %w", err)
	}
	bold, err := f.NewStyle(&excelize.Style{NumFmt: 49, Font: &excelize.Font{Bold: true}})
	if err != nil {
		return fmt.Errorf("sheet: %w", err)
	}
	for i, row := range s.rows() {
		for j, cell := range row {
			at, err := excelize.CoordinatesToCellName(j+1, i+1)
			if err != nil {
				return fmt.Errorf("sheet: %w", err)
			}
			style := text
			if i == 0 {
				style = bold
			}
			if err := f.SetCellStr(name, at, cell); err != nil {
				return fmt.Errorf("sheet: %w", err)
			}
			if err := f.SetCellStyle(name, at, at, style); err != nil {
				return fmt.Errorf("sheet: %w", err)
			}
		}
	}
	for col, width := range map[string]float64{"A": 12, "B": 34, "C": 44, "D": 28, "E": 28, "F": 28} {
		if err := f.SetColWidth(name, col, col, width); err != nil {
			return fmt.Errorf("sheet: %w", err)
		}
	}
	// A fixed date: the same sheet is the same file.
	if err := f.SetDocProps(&excelize.DocProperties{Creator: "Trunnion " + s.Program, Title: s.Title, Created: s.Printed + "T00:00:00Z", Modified: s.Printed + "T00:00:00Z"}); err != nil {
		return fmt.Errorf("sheet: %w", err)
	}
	_, err = f.WriteTo(w)
	return err
}
