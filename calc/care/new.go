package care

import (
	"duskline/calc/outlook"
	"duskline/calc/plan"
)

// NewLife tells what the trip of an Outlook costs its battery.
func NewLife(p plan.Plan, o *outlook.Outlook) (*Life, error) { return &Life{}, nil }
