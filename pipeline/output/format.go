package output

import (
	"fmt"
	"io"
	"slices"
	"strings"
)

// A Format describes a format of tables to the rest of the program. Each format is declared in the
// file of its writer, and formats lists them.
type Format struct {
	Name string // in plans, and the ending of its files
	Map  bool   // it holds points: for tables with lon and lat alone

	// Audited says that an audit reads the file again and compares it row by row. The bytes of every
	// file are compared with their hash in any case.
	Audited bool

	// Large names the format that is also written if there are more buildings than a viewer draws with
	// ease from one file of this format. It is "" for none.
	Large string
}

// A format is a Format with its writer of rows R.
type format[R any] struct {
	Format

	open   func(f *File, t *Table[R], about About) (rowWriter[R], error)
	beside []beside[R] // the files that stand beside it
}

// A rowWriter writes rows to one file. Close writes what is buffered; the file stays open.
type rowWriter[R any] interface {
	Write(*R) error
	Close() error
}

// A beside is a file that stands beside the file of a format. It does not depend on the rows.
type beside[R any] struct {
	ending string                 // of its name, after the name of the table and a dot
	suits  func(t *Table[R]) bool // nil for every table
	write  func(w io.Writer, t *Table[R], about About) error
}

// formats returns the formats in the order they are shown.
func formats[R any]() []format[R] {
	return []format[R]{
		parquetFormat[R](),
		csvFormat[R](),
		geoPackageFormat[R](),
		geoJSONFormat[R](),
		geoLinesFormat[R](),
		tilesFormat[R](),
		archiveFormat[R](),
	}
}

// Formats returns the formats in the order they are shown.
func Formats() []Format {
	var list []Format
	for _, f := range formats[struct{}]() {
		list = append(list, f.Format)
	}
	return list
}

// FormatNames returns the names of the formats in the order they are shown.
func FormatNames() []string {
	var names []string
	for _, f := range Formats() {
		names = append(names, f.Name)
	}
	return names
}

// FormatNamed returns the format called name.
func FormatNamed(name string) (Format, bool) {
	list := Formats()
	i := slices.IndexFunc(list, func(f Format) bool { return f.Name == name })
	if i < 0 {
		return Format{}, false
	}
	return list[i], true
}

// formatOf returns the format called name with its writer of t, or that of a layer. The error says that there is no
// such format, or that t has no points for it.
func formatOf[R any](t *Table[R], name string) (format[R], error) {
	if name == Layer {
		return layerFormat[R](), nil
	}
	list := formats[R]()
	i := slices.IndexFunc(list, func(f format[R]) bool { return f.Name == name })
	switch {
	case i < 0:
		return format[R]{}, fmt.Errorf("output %s: no format %q: use %s", t.Name, name,
			strings.Join(FormatNames(), ", "))
	case list[i].Map && !t.Point: // outlines go into the GeoPackage of the buildings, see Layer
		return format[R]{}, fmt.Errorf("output %s: has no points for format %q", t.Name, name)
	}
	return list[i], nil
}

// Files returns the names of the files of t in the format called name: the file of the rows, then
// the files beside it. It returns nil if t cannot be written in that format.
func (t *Table[R]) Files(name string) []string {
	f, err := formatOf(t, name)
	if err != nil {
		return nil
	}
	return f.files(t)
}

// files returns the names of the files of t in f.
func (f *format[R]) files(t *Table[R]) []string {
	names := []string{t.Name + "." + f.Name}
	for i := range f.beside {
		if f.beside[i].stands(t) {
			names = append(names, t.Name+"."+f.beside[i].ending)
		}
	}
	return names
}

// stands reports whether the file stands beside a file of t.
func (b *beside[R]) stands(t *Table[R]) bool { return b.suits == nil || b.suits(t) }

// start adds to set the file of t in f and the files beside it. It returns the file and the writer
// of its rows.
func (f *format[R]) start(set *Set, t *Table[R], about About) (*File, rowWriter[R], error) {
	file, err := set.Create(t.Name + "." + f.Name)
	if err != nil {
		return nil, nil, err
	}
	w, err := f.open(file, t, about)
	if err != nil {
		return nil, nil, err
	}
	for i := range f.beside {
		b := &f.beside[i]
		if !b.stands(t) {
			continue
		}
		other, err := set.Create(t.Name + "." + b.ending)
		if err != nil {
			return nil, nil, err
		}
		if err := b.write(other, t, about); err != nil {
			return nil, nil, err
		}
	}
	return file, w, nil
}
