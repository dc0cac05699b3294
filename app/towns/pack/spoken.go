package main

import "strings"

// romanised are Cyrillic and Greek letters by their usual sound. It serves
// only to tell which of several spellings belongs to the town's own language.
var romanised = strings.NewReplacer(
	"а", "a", "б", "b", "в", "v", "г", "g", "ґ", "g", "д", "d", "е", "e", "є", "ye", "ж", "zh", "з", "z", "и", "i", "і", "i", "к", "k",
	"л", "l", "м", "m", "н", "n", "о", "o", "п", "p", "р", "r", "с", "s", "т", "t", "у", "u", "ф", "f", "х", "kh", "ц", "ts", "ч", "ch",
	"ш", "sh", "щ", "shch", "ъ", "", "ы", "y", "ь", "", "э", "e", "ю", "yu", "я", "ya", "ј", "j", "љ", "lj", "њ", "nj", "ћ", "c", "ђ", "dj", "џ", "dz",
	"қ", "q", "ғ", "g", "ң", "ng", "ө", "o", "ү", "u", "ұ", "u", "һ", "h", "ә", "a", "ҳ", "h", "ҷ", "j",
	"α", "a", "β", "v", "γ", "g", "δ", "d", "ε", "e", "ζ", "z", "η", "i", "θ", "th", "ι", "i", "κ", "k", "λ", "l", "μ", "m", "ν", "n", "ξ", "x",
	"ο", "o", "π", "p", "ρ", "r", "σ", "s", "τ", "t", "υ", "y", "φ", "f", "χ", "ch", "ψ", "ps", "ω", "o",
)

func spoken(name string) string { return romanised.Replace(foldedAll(name)) }

// letterByLetter is how the source spells Cyrillic names in Latin letters.
func letterByLetter(name string) string {
	return strings.ReplaceAll(byLetter.Replace(strings.ToLower(name)), "'", "")
}

var byLetter = strings.NewReplacer(
	"а", "a", "б", "b", "в", "v", "г", "g", "ґ", "g", "д", "d", "е", "e", "ё", "jo", "є", "je", "ж", "zh", "з", "z", "и", "i", "і", "i", "ї", "i", "й", "j",
	"к", "k", "л", "l", "м", "m", "н", "n", "о", "o", "п", "p", "р", "r", "с", "s", "т", "t", "у", "u", "ў", "u", "ф", "f", "х", "kh", "ц", "c", "ч", "ch",
	"ш", "sh", "щ", "shch", "ъ", "", "ы", "y", "ь", "", "э", "eh", "ю", "ju", "я", "ja",
)

func plain(name string) string {
	return strings.NewReplacer("'", "", "-", " ").Replace(strings.ToLower(name))
}

// apart is the number of letters to put in, take out or change to get from a
// to b (the edit distance).
func apart(a, b string) int {
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := range len(a) {
		diagonal := row[0]
		row[0] = i + 1
		for j := range len(b) {
			change := diagonal
			if a[i] != b[j] {
				change++
			}
			diagonal = row[j+1]
			row[j+1] = min(change, row[j]+1, row[j+1]+1)
		}
	}
	return row[len(b)]
}
