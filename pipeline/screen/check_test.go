package screen

import (
	"bytes"
	"context"
	"encoding/json"
	"maps"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/pipeline/internal/trial"
)

// TestCheckJSON: the check for a program has the keys that docs/methods/register.md lists,
// and empty lists rather than null.
func TestCheckJSON(t *testing.T) {
	study := trial.Small(t, "[inventory.assume]\nsystem = \"unknown-mix\"\n"+trial.OnRock, "Loam,,")
	check, err := CheckRegister(context.Background(), study)
	require.NoError(t, err)
	var b bytes.Buffer
	require.NoError(t, check.WriteJSON(&b))
	var got map[string]any
	require.NoError(t, json.Unmarshal(b.Bytes(), &got))
	keys := func(m any) []string { return slices.Sorted(maps.Keys(m.(map[string]any))) }
	assert.Equal(t, []string{"buildings", "cautions", "data_grades", "fields", "findings", "hazard",
		"outside_hazard",
		"put_right_first", "register", "rejected", "rejects", "rows_in", "title", "unmapped_words"},
		keys(got))
	assert.Equal(t, []any{}, got["rejects"])
	field := got["fields"].([]any)[0]
	assert.Equal(t, []string{"absent", "approximate", "assumed", "column", "derived", "field", "given",
		"rows_missing"}, keys(field))
	finding := got["findings"].([]any)[0].(map[string]any)
	assert.Equal(t, []string{"count", "counts", "examples", "finding", "remedy", "rule"}, keys(finding))
	assert.Equal(t, "unknown-word", finding["rule"])
	assert.Equal(t, []string{"column", "id", "line", "note", "raw"}, keys(finding["examples"].([]any)[0]))
	words := got["unmapped_words"].([]any)[0].(map[string]any)
	assert.Equal(t, []string{"cells", "column", "field", "rest_cells", "words", "words_known"}, keys(words))
	assert.Equal(t, []any{map[string]any{"word": "Loam", "cells": 1.0, "suggestion": ""}}, words["words"])
}

// TestCheckLeavesGround: no site class is asked for where the hazard holds for the ground.
func TestCheckLeavesGround(t *testing.T) {
	for soil, asked := range map[string]bool{"false": true, "true": false} {
		study := trial.Small(t,
			"[hazard]\nkind = \"constant\"\npga = 0.3\nperiods_s = [0.2, 1, 4]\nsa = [0.75, 0.3, 0.05]\nk = 3\nsoil_included = "+soil+"\n", ",,")
		check, err := CheckRegister(context.Background(), study)
		require.NoError(t, err)
		text := check.Register.String()
		if asked {
			assert.Contains(t, text, "site_class, not given for 1 of 1 buildings")
		} else {
			assert.NotContains(t, text, "site_class, not given")
		}
	}
}

// A check of values in m/s2 declared as g, with two buildings of which one lies far
// away, and zones that overlap, says all there is to look at.
func TestCheckSaysWhatToLookAt(t *testing.T) {
	table := "[hazard]\nkind = \"grid\"\npath = \"ms2.csv\"\nsoil_included = false\nsite_zones = \"overlap.geojson\"\n"
	study := trial.Small(t, table, ",,\nB,-20.5,40.5,concrete-frame,4,2000,C,,")
	c, err := CheckRegister(context.Background(), study)
	require.NoError(t, err)
	var b strings.Builder
	require.NoError(t, c.Write(&b))
	text := strings.Join(strings.Fields(b.String()), " ")
	for _, want := range []string{
		"ms2.csv: 4 nodes from longitude -31 to -30 and latitude 40 to 41",
		"475 yr: PGA 2.1 to 4.9 g, Sa 2 to 12.3 g",
		"4 of 12 values are above 5 g (up to 12.3 g): is the unit right?",
		"half of the nodes have a peak of 2.2 g or more at 475 yr: is the unit right? Values in m/s2 read as g",
		"pairs of neighbouring nodes differ by more than a factor 2",
		"site zones: feature 1 and feature 2 overlap",
		"1 buildings located, 1 outside the hazard",
		"line 3, B: longitude -20.5, latitude 40.5 is outside the hazard: the nearest node (-30, 4",
		"distance to the nearest node: 7",
		"Sa(1 s) at 475 yr on the buildings' ground:",
	} {
		assert.Contains(t, text, want)
	}
}
