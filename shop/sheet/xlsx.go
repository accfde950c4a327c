package sheet

import (
	"fmt"
	"io"

	"github.com/xuri/excelize/v2"
)

// WriteXLSX writes the tree as one worksheet.
func WriteXLSX(w io.Writer, s *Sheet) error {
	widths := []float64{12, 34, 44, 28, 28, 28}
	return writeBook(w, s.rows(), widths, &excelize.DocProperties{Creator: "Trunnion " + s.Program, Title: s.Title, Created: s.Printed + "T00:00:00Z", Modified: s.Printed + "T00:00:00Z"})
}

// WriteRowsXLSX writes rows of texts, the first of them headings, as one worksheet; date
// is that of the document, 2026-11-16, so that the same rows are the same file.
func WriteRowsXLSX(w io.Writer, rows [][]string, program, title, date string) error {
	var widths []float64
	if len(rows) > 0 {
		for range rows[0] {
			widths = append(widths, 24)
		}
	}
	return writeBook(w, rows, widths, &excelize.DocProperties{Creator: "Trunnion " + program, Title: title, Created: date + "T00:00:00Z", Modified: date + "T00:00:00Z"})
}

// writeBook writes rows as one worksheet; every cell is text, so that nothing in it is
// taken for a formula or a date.
func writeBook(w io.Writer, rows [][]string, widths []float64, about *excelize.DocProperties) (err error) {
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
	for i, row := range rows {
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
	for i, width := range widths {
		col, err := excelize.ColumnNumberToName(i + 1)
		if err != nil {
			return fmt.Errorf("sheet: %w", err)
		}
		if err := f.SetColWidth(name, col, col, width); err != nil {
			return fmt.Errorf("sheet: %w", err)
		}
	}
	// A fixed date: the same sheet is the same file.
	if err := f.SetDocProps(about); err != nil {
		return fmt.Errorf("sheet: %w", err)
	}
	_, err = f.WriteTo(w)
	return err
}
