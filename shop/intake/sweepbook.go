package intake

import (
	"archive/zip"
	"bytes"
	"io"
	"path"
	"strings"

	"github.com/xuri/excelize/v2"
)

// book is a workbook's sheets, and what is to be known of them.
type book struct {
	file     *excelize.File
	formulas bool // some values are what the workbook computed last
	macros   bool // stand in it and are not run
}

// Bounds of a workbook when it is unpacked.
const (
	mostUnpacked = 1 << 30
	mostInMemory = 64 << 20
)

// opened opens a workbook.
func opened(data []byte) (*book, *SweepFault) {
	again := "save it as XLSX without a password, or as CSV"
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return nil, &SweepFault{Got: "is a workbook that cannot be unpacked: it is cut short or damaged", Want: again}
	}
	b := &book{}
	unpacked := uint64(0)
	for _, f := range z.File {
		unpacked += f.UncompressedSize64
		if path.Base(f.Name) == "vbaProject.bin" {
			b.macros = true
		}
	}
	if unpacked > mostUnpacked {
		return nil, &SweepFault{Got: "is larger than 1 GB unpacked", Want: "export one damper a file"}
	}
	for _, f := range z.File {
		if strings.HasPrefix(f.Name, "xl/worksheets/") && !b.formulas {
			b.formulas = hasFormula(f)
		}
	}
	b.file, err = excelize.OpenReader(bytes.NewReader(data), excelize.Options{RawCellValue: true, UnzipSizeLimit: mostUnpacked, UnzipXMLSizeLimit: mostInMemory})
	if err != nil {
		return nil, &SweepFault{Got: "is a workbook that cannot be read", Want: again}
	}
	return b, nil
}

// hasFormula looks for a formula in a sheet's text, over the joints of what is read.
func hasFormula(f *zip.File) bool {
	r, err := f.Open()
	if err != nil {
		return false
	}
	defer r.Close() //nolint:errcheck // it was only read
	block, kept := make([]byte, 64<<10), 0
	for {
		n, err := io.ReadFull(r, block[kept:])
		text := block[:kept+n]
		if bytes.Contains(text, []byte("<f>")) || bytes.Contains(text, []byte("<f ")) {
			return true
		}
		if err != nil {
			return false
		}
		kept = copy(block, text[len(text)-3:])
	}
}

// rows reads a sheet.
func (b *book) rows(sheet string) rows {
	return func(each func(row) error) error {
		list, err := b.file.Rows(sheet)
		if err != nil {
			return err
		}
		defer list.Close() //nolint:errcheck // it was only read
		blank := false
		for n := 1; list.Next(); n++ {
			cells, err := list.Columns()
			if err != nil {
				return err
			}
			some := false
			for i := range cells {
				cells[i] = strings.TrimSpace(cells[i])
				some = some || cells[i] != ""
			}
			if !some {
				blank = true
				continue
			}
			if err := each(row{n, blank, cells}); err != nil {
				return err
			}
			blank = false
		}
		return list.Error()
	}
}
