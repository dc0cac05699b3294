package daylight

// BestLie returns how panel i of the Spec would lie best.
func (c *Scene) BestLie(i int) (Advice, error) { return Advice{}, ErrNoLight }
