package source

import (
	"encoding/json"
	"errors"
	"fmt"
	"strings"

	"plinth/pipeline/inventory/fault"
)

// geoMeta holds the used part of the key "geo" of a GeoParquet file (GeoParquet
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
		return "", &fault.FileError{File: s.File, Value: meta.Version,
			Rule: "a version of GeoParquet that is not read", Remedy: "write it as GeoParquet 1.1"}
	case c.Encoding != "WKB":
		return "", &fault.FileError{File: s.File, Value: c.Encoding,
			Rule: "geometries in an encoding that is not read", Remedy: "write them as WKB"}
	}
	s.system = geoSystem(c.CRS)
	return meta.Primary, nil
}

// geoSystem returns the reference system of the geometries. None is longitude and latitude on
// WGS 84 by the specification; null is one that nobody knows.
func geoSystem(crs json.RawMessage) string {
	switch string(crs) {
	case "":
		return "OGC:CRS84"
	case "null":
		return noSystem
	}
	var id struct {
		ID struct {
			Authority string          `json:"authority"`
			Code      json.RawMessage `json:"code"`
		} `json:"id"`
	}
	if err := json.Unmarshal(crs, &id); err == nil && id.ID.Authority != "" {
		return strings.ToUpper(id.ID.Authority) + ":" + strings.Trim(string(id.ID.Code), `"`)
	}
	return string(crs)
}
