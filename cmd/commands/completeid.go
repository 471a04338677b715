package commands

import (
	"time"

	"plinth/pipeline/inventory"
	"plinth/pipeline/plan"
)

// Limits of the search for ids: how long a shell may have to wait, and how many rows are read. The
// front of a register serves those who know only the beginning of an id (judgement).
const (
	idsWait = 500 * time.Millisecond
	idsRows = 4096
)

// idsOf returns ids of buildings from the first rows of the register of the plan at path. It
// returns none if the register cannot be read, or not in time.
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
