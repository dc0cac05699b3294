// Package panel turns light and heat into volts and amps.
//
// A [Module] is a kind of panel, from its datasheet or from its watts alone,
// new or [Module.Aged]. Module.At gives its [Curve] in a light at a cell
// temperature, which a [Mount] knows. An [Array] joins curves side by side, end
// to end or in strings, behind blocking diodes and a cable; a [Patchy] does so
// where a shade lies on some of the cells. All of them answer in closed form or
// by short root searches, without allocating: the Outlook asks thousands of
// times.
//
// Missing: the panel's own spectrum and angle response (calc/sun corrects for
// the glass), light that differs from cell to cell other than lit and dark, the
// breakdown of cells far below 0 V, a film's own band gap and its first weeks in
// the light, wear other than so much current a year, the heat of the ground
// under a panel.
package panel
