package pipeline

import (
	"bytes"
	"context"
	"encoding/json"
	"maps"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestCheckJSON: the check for a program has the keys that docs/methods/register.md lists,
// and empty lists rather than null.
func TestCheckJSON(t *testing.T) {
	r := small(t, "[inventory.assume]\nsystem = \"unknown-mix\"\n"+onRock, "Loam,,")
	check, err := r.Check(context.Background())
	require.NoError(t, err)
	var b bytes.Buffer
	require.NoError(t, check.WriteJSON(&b))
	var got map[string]any
	require.NoError(t, json.Unmarshal(b.Bytes(), &got))
	keys := func(m any) []string { return slices.Sorted(maps.Keys(m.(map[string]any))) }
	assert.Equal(t, []string{"buildings", "cautions", "data_grades", "fields", "findings", "hazard", "outside_hazard",
		"put_right_first", "register", "rejected", "rejects", "rows_in", "title", "unmapped_words"}, keys(got))
	assert.Equal(t, []any{}, got["rejects"])
	field := got["fields"].([]any)[0]
	assert.Equal(t, []string{"absent", "approximate", "assumed", "column", "derived", "field", "given", "rows_missing"}, keys(field))
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
		r := small(t, "[hazard]\nkind = \"constant\"\npga = 0.3\nperiods_s = [0.2, 1, 4]\nsa = [0.75, 0.3, 0.05]\nk = 3\nsoil_included = "+soil+"\n", ",,")
		check, err := r.Check(context.Background())
		require.NoError(t, err)
		text := check.Register.String()
		if asked {
			assert.Contains(t, text, "site_class, not given for 1 of 1 buildings")
		} else {
			assert.NotContains(t, text, "site_class, not given")
		}
	}
}
