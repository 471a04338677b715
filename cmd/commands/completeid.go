package commands

import (
	"time"

	"plinth/pipeline/inventory"
	"plinth/pipeline/plan"
)

// What a shell may be kept waiting for ids, and how many rows are looked at: those who
// know no more of an id than its beginning are served by the front of a register
// (judgement).
const (
	idsWait = 500 * time.Millisecond
	idsRows = 4096
)

// idsOf returns ids of buildings in the register of the plan at path, from its first rows;
// none where it cannot be read, or not in time.
func idsOf(path string) []string {
	found := make(chan []string, 1)
	go func() { found <- readIDs(path) }()
	select {
	case ids := <-found:
		return ids
	case <-time.After(idsWait):
		return nil // the process ends, and the reading with it
	}
}

func readIDs(path string) []string {
	p, err := plan.Load(path)
	if err != nil {
		return nil
	}
	p.Inventory.Impute = "defaults" // which needs no reading of the whole
	r, err := inventory.Open(&p.Inventory, inventory.Options{})
	if err != nil {
		return nil
	}
	defer r.Close()
	var ids []string
	var raw inventory.Raw
	var batch inventory.Batch
	for rows := 0; rows < idsRows && r.Read(&raw, &batch) == nil; rows += batch.Rows {
		for i := range batch.Buildings {
			ids = append(ids, batch.Buildings[i].ID)
		}
	}
	return ids
}
