package care

import (
	"testing"

	"duskline/calc/outlook"
	"duskline/calc/plan"
)

// BenchmarkCare is all that a page asks at an edit: tide, alarms, clock, life,
// for a Plan with five devices whose Outlook is there already.
func BenchmarkCare(b *testing.B) {
	for _, c := range []plan.Chemistry{plan.LiFePO4, plan.AGM} {
		p := kind(camp(), c)
		p.Gear = append(p.Gear, gear("phone", plan.RouteUSB, 10, plan.Window{FromH: 6, ToH: 8}), gear("fan", plan.RouteDC, 15, plan.Window{FromH: 22, ToH: 6}))
		o, err := outlook.Run(sound(b, p))
		if err != nil {
			b.Fatal(err)
		}
		b.Run("devices=5/chemistry="+string(c), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				_, err1 := NewTide(p)
				_, err2 := NewAlarms(p)
				_, err3 := NewStorage(p, 0.8)
				_, err4 := NewLife(p, o)
				if err1 != nil || err2 != nil || err3 != nil || err4 != nil {
					b.Fatal(err1, err2, err3, err4)
				}
			}
		})
	}
}
