package retrofit

import (
	"plinth/archetypes"
	"plinth/retrofit/demand"
)

// Built is the structure that Evaluate designed: a frame, strengthened or as it stands, and the
// device on it. A time history starts from it.
type Built struct {
	Stick  *archetypes.Stick // of the Case, or in the storage of the Work
	Device demand.Device     // in the storage of the Work; nil for a frame alone
}
