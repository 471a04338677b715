package output

import (
	"context"
	"encoding/binary"

	"github.com/apache/thrift/lib/go/thrift"
	"github.com/xitongsys/parquet-go/parquet"
)

// writeFooter writes the footer with our own statistics. It replaces WriteStop of the writing
// library, which would add its own statistics and a malformed page index.
func (p *Parquet[R]) writeFooter() error {
	p.w.RenameSchema()
	f := p.w.Footer
	created := createdBy(p.about.Version)
	f.CreatedBy = &created
	for _, e := range f.Schema {
		e.FieldID = nil // the library gives all of them 0; ids are unique or absent
	}
	for g, rg := range f.RowGroups {
		for i, chunk := range rg.Columns {
			m := chunk.MetaData
			m.Statistics = p.done[g][i].thrift(p.leaves[i].kind)
			m.Encodings = []parquet.Encoding{parquet.Encoding_RLE, parquet.Encoding_PLAIN}
			if m.DictionaryPageOffset != nil {
				m.Encodings = append(m.Encodings, parquet.Encoding_RLE_DICTIONARY)
			}
		}
	}
	for range p.leaves {
		f.ColumnOrders = append(f.ColumnOrders, &parquet.ColumnOrder{TYPE_ORDER: parquet.NewTypeDefinedOrder()})
	}
	if p.geo != nil {
		f.KeyValueMetadata = append(f.KeyValueMetadata, keyValue("geo", p.geo.metadata()))
	}
	for _, kv := range p.about.notes(p.t.ID) {
		f.KeyValueMetadata = append(f.KeyValueMetadata, keyValue(kv[0], kv[1]))
	}

	ts := thrift.NewTSerializer()
	ts.Protocol = thrift.NewTCompactProtocolFactoryConf(nil).GetProtocol(ts.Transport)
	b, err := ts.Write(context.Background(), f)
	if err != nil {
		return err
	}
	b = binary.LittleEndian.AppendUint32(b, uint32(len(b)))
	_, err = p.buf.Write(append(b, "PAR1"...))
	return err
}

func keyValue(key, value string) *parquet.KeyValue {
	return &parquet.KeyValue{Key: key, Value: &value}
}

// createdBy returns the name of the writer in the form that readers parse.
func createdBy(version string) string {
	if version == "" {
		version = "0"
	}
	return "plinth version " + version
}
