package output

import "io"

// WriteCSVMetadata writes the description of the CSV file of t by the W3C recommendation "Metadata
// Vocabulary for Tabular Data" (2015). By section 5.3 of it, the file stands beside NAME.csv as
// NAME.csv-metadata.json, where readers that know the recommendation find it. The description
// carries the caution, so that the CSV file holds nothing but rows under one header.
func WriteCSVMetadata[R any](w io.Writer, t *Table[R], about About) error {
	type column struct {
		Name     string `json:"name"`
		Titles   string `json:"titles"`
		Datatype string `json:"datatype"`
		Required bool   `json:"required"`
		Unit     string `json:"schema:unitText,omitempty"`
		Doc      string `json:"dc:description"`
	}
	type dialect struct {
		Encoding string  `json:"encoding"`
		Header   bool    `json:"header"`
		Comment  *string `json:"commentPrefix"` // null for none: by default an id such as #12 would begin a comment
	}
	type tableSchema struct {
		Columns []column `json:"columns"`
		Key     []string `json:"primaryKey,omitempty"`
	}
	notes := map[string]string{}
	for _, kv := range about.notes(t.ID) {
		notes[kv[0]] = kv[1]
	}
	d := struct {
		Context string              `json:"@context"`
		URL     string              `json:"url"`
		Title   string              `json:"dc:title"`
		Doc     string              `json:"dc:description"`
		Notes   []map[string]string `json:"notes"`
		Dialect dialect             `json:"dialect"`
		Schema  tableSchema         `json:"tableSchema"`
	}{
		Context: "http://www.w3.org/ns/csvw",
		URL:     t.Name + ".csv",
		Title:   t.Title,
		Doc: t.Doc + " " + Caution +
			" A text that a spreadsheet could run as a formula has one single quote in front;" +
			" the Parquet file, where there is one, has the text without it.",
		Notes:   []map[string]string{notes},
		Dialect: dialect{Encoding: "utf-8", Header: true},
		Schema:  tableSchema{Key: t.Key},
	}
	for i := range t.Columns {
		c := &t.Columns[i]
		d.Schema.Columns = append(d.Schema.Columns, column{c.Name, c.Name, c.datatype(), c.Required, c.Unit, c.Doc})
	}
	b, err := encode(d)
	if err != nil {
		return err
	}
	_, err = w.Write(b)
	return err
}

// datatype returns the name of the column's type in the W3C vocabulary.
func (c *Column[R]) datatype() string {
	switch {
	case c.Float != nil:
		return "double"
	case c.Text != nil:
		return "string"
	case c.Int != nil:
		return "long"
	default:
		return "boolean"
	}
}
