package work

import (
	"encoding/json"
	"errors"
	"fmt"

	"duskline/calc/weather"
)

// Jobs are those of Duskline, by name.
var Jobs = map[string]Job{ReadWeather: readWeather, RunPairing: runPairing}

// ReadWeather is the job that turns a weather file into a packed year. Its
// result is for [WeatherYear].
const ReadWeather = "weather"

// The first byte of the job's result: what follows it.
const (
	aYear   = 1 // a packed year
	aFaults = 2 // the faults of the file, as JSON
)

func readWeather(in []byte, done func(share float64)) ([]byte, error) {
	done(0.05) // the program runs
	year, err := weather.Read(in)
	if err != nil {
		text, bad := json.Marshal(err)
		if bad != nil {
			return nil, bad
		}
		return append([]byte{aFaults}, text...), nil
	}
	done(0.9)
	return append([]byte{aYear}, year.Pack()...), nil
}

// WeatherYear returns the year that the job has read, and its bytes as they
// are kept on the device.
//
// Errors: weather.Errors for what is wrong with the file.
func WeatherYear(out []byte) (*weather.Year, []byte, error) {
	if len(out) == 0 {
		return nil, nil, errShort
	}
	kind, rest := out[0], out[1:]
	if kind == aFaults {
		var faults weather.Errors
		if err := json.Unmarshal(rest, &faults); err != nil {
			return nil, nil, fmt.Errorf("work: %w", err)
		}
		return nil, nil, faults
	}
	year, err := weather.Unpack(rest)
	return year, rest, err
}

var errShort = errors.New("work: a result without a byte")
