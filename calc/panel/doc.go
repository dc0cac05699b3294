// Package panel turns light and heat into volts and amps.
//
// A [Module] is a kind of panel, from its datasheet or from its watts alone.
// Module.At gives its [Curve] in a light at a cell temperature, and an
// [Array] joins curves end to end or side by side. All three answer in closed
// form or by one short root search, without allocating: the Outlook asks
// thousands of times.
//
// Missing: the panel's own spectrum and angle response (calc/sun corrects for
// the glass), light that differs from cell to cell other than lit and dark (what
// stands in the shade in part is a [Patchy]), the breakdown of cells far below 0 V, thin-film terms, wear by age.
package panel
