package inventory_test

import (
	"fmt"
	"io"
	"strings"

	"plinth/pipeline/inventory"
	"plinth/pipeline/plan"
)

// A register as a spreadsheet with decimal commas writes it: byte order mark,
// semicolons, carriage returns, thousands with dots, heights in feet.
func ExampleReader() {
	text := "\ufeffNr;Bezeichnung;x;y;Geschosse;Hoehe;Flaeche;Bauart\r\n" +
		"007;Altes Lager;-150,12345;40,54321;4;45,9;1.234,5;Holz\r\n" +
		"008;Neues Lager;-150,12399;40,54399;;45,9;TBD;Beton\r\n"
	inv := &plan.Inventory{
		Format: "csv", Delimiter: ";", Decimal: ",",
		Columns: map[string]string{
			"id": "Nr", "name": "Bezeichnung", "lon": "x", "lat": "y", "storeys": "Geschosse", "height": "Hoehe", "floor_area": "Flaeche", "system": "Bauart",
		},
		Units:  map[string]string{"height": "ft", "floor_area": "m2"},
		Values: map[string]map[string]string{"system": {"Holz": "timber-frame", "Beton": "concrete-frame"}},
	}
	r, err := inventory.NewReader(strings.NewReader(text), "lager.csv", inv, inventory.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	var raw inventory.Raw
	var batch inventory.Batch
	for err = r.Read(&raw, &batch); err == nil; err = r.Read(&raw, &batch) {
		for _, b := range batch.Buildings {
			fmt.Printf("%s: %s, %d storeys, %.2f m, %.1f m2, grade %s\n", b.ID, b.System, b.Storeys, b.Height, b.FloorArea, b.Grade)
		}
		for _, rj := range batch.Rejects {
			fmt.Println(rj.Error())
		}
	}
	fmt.Println(err == io.EOF, r.Report().Tally.Check() == nil)
	// Output:
	// 007: timber-frame, 4 storeys, 13.99 m, 1234.5 m2, grade C
	// lager.csv:3: building 008: column Flaeche = "TBD": neither floor area nor footprint is known; give one of them, or set floor_area under [inventory.assume]
	// true true
}
