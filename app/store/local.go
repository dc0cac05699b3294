package store

import (
	"encoding/base64"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"

	"github.com/maxence-charriere/go-app/v9/pkg/app"
)

// Keys in localStorage.
const (
	localPlan    = "duskline/plan/"
	localSetting = "duskline/set/"
)

// local keeps plans in localStorage, for browsers without IndexedDB.
type local struct{ storage app.Value }

func openLocal() (Drive, error) {
	storage, err := property(app.Window(), "localStorage")
	if err != nil {
		return nil, err
	}
	return &local{storage}, nil
}

func (l *local) Name() string { return "localstorage" }

func (l *local) Load() (Contents, error) {
	c := Contents{Settings: map[string]string{}}
	err := guard(func() {
		for i := range l.storage.Get("length").Int() {
			key := l.storage.Call("key", i).String()
			value := l.storage.Call("getItem", key).String()
			if id, ok := strings.CutPrefix(key, localPlan); ok {
				c.Records = append(c.Records, unpack(id, value))
			} else if name, ok := strings.CutPrefix(key, localSetting); ok {
				c.Settings[name] = value
			}
		}
	})
	return c, err
}

func (l *local) Put(r Record) error {
	return guard(func() { l.storage.Call("setItem", localPlan+r.ID, pack(r)) })
}

func (l *local) Remove(id string) error {
	return guard(func() { l.storage.Call("removeItem", localPlan+id) })
}

func (l *local) Set(key, value string) error {
	return guard(func() { l.storage.Call("setItem", localSetting+key, value) })
}

// pack writes a record as one string: the time in milliseconds, how the text
// is written, the text.
func pack(r Record) string {
	at := strconv.FormatInt(r.Changed.UnixMilli(), 10)
	if utf8.Valid(r.Text) {
		return at + " text " + string(r.Text)
	}
	return at + " base64 " + base64.StdEncoding.EncodeToString(r.Text)
}

// unpack reads a packed record. What does not look like one is kept whole as
// the text.
func unpack(id, value string) Record {
	parts := strings.SplitN(value, " ", 3)
	if len(parts) == 3 {
		if ms, err := strconv.ParseInt(parts[0], 10, 64); err == nil {
			r := Record{ID: id, Changed: time.UnixMilli(ms)}
			switch parts[1] {
			case "text":
				r.Text = []byte(parts[2])
				return r
			case "base64":
				if text, err := base64.StdEncoding.DecodeString(parts[2]); err == nil {
					r.Text = text
					return r
				}
			}
		}
	}
	return Record{ID: id, Text: []byte(value)}
}
