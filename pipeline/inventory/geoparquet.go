package inventory

import (
	"encoding/json"
	"errors"
	"fmt"
	"strings"
)

// geoMeta is what is used of the key "geo" of a GeoParquet file (GeoParquet
// 1.1.0, sections "File metadata" and "Column metadata").
type geoMeta struct {
	Version string               `json:"version"`
	Primary string               `json:"primary_column"`
	Columns map[string]geoColumn `json:"columns"`
}

type geoColumn struct {
	Encoding string          `json:"encoding"`
	CRS      json.RawMessage `json:"crs"`
}

// geometryColumn returns the name of the primary column of geometries, "" for a
// Parquet file without any.
func (s *parquetSource) geometryColumn() (string, error) {
	text, ok := s.parquet.Lookup("geo")
	if !ok {
		return "", nil
	}
	var meta geoMeta
	if err := json.Unmarshal([]byte(text), &meta); err != nil {
		return "", fmt.Errorf("its key geo is not JSON: %w", err)
	}
	c, ok := meta.Columns[meta.Primary]
	switch {
	case meta.Primary == "" || !ok:
		return "", errors.New("its key geo names no column of geometries")
	case !strings.HasPrefix(meta.Version, "1."):
		return "", &FileError{File: s.file, Value: meta.Version, Rule: "a version of GeoParquet that is not read", Remedy: "write it as GeoParquet 1.1"}
	case c.Encoding != "WKB":
		return "", &FileError{File: s.file, Value: c.Encoding, Rule: "geometries in an encoding that is not read", Remedy: "write them as WKB"}
	}
	return meta.Primary, s.degrees(c.CRS)
}

// degrees refuses a reference system that is not longitude and latitude on WGS
// 84. None is that by the specification; null is one that nobody knows.
func (s *parquetSource) degrees(crs json.RawMessage) error {
	if len(crs) == 0 {
		return nil
	}
	var id struct {
		Name string `json:"name"`
		ID   struct {
			Authority string          `json:"authority"`
			Code      json.RawMessage `json:"code"`
		} `json:"id"`
	}
	if err := json.Unmarshal(crs, &id); err == nil {
		switch code := strings.Trim(string(id.ID.Code), `"`); strings.ToUpper(id.ID.Authority) + ":" + code {
		case "EPSG:4326", "OGC:CRS84":
			return nil
		case ":":
		default:
			return notDegrees(s.file, id.ID.Authority+":"+code)
		}
	}
	return notDegrees(s.file, string(crs))
}
