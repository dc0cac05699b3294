package planning

import "github.com/maxence-charriere/go-app/v9/pkg/app"

// batteryCards is what stands right under the marks of the battery: pictures
// of what its alarm and its cut-off mean.
func (s *sheet) batteryCards(f form) []app.UI { return nil }
