//go:build !js

package zone

import (
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"
	_ "time/tzdata" // for machines without a database: half a megabyte of the command, none of the client

	"duskline/calc/civil"
)

// Here returns the name of the machine's own time zone, "" if it is not known:
// that of the variable TZ, or the one that /etc/localtime points to.
func Here() string {
	name, set := os.LookupEnv("TZ")
	name = strings.TrimPrefix(name, ":")
	if !set {
		path, _ := os.Readlink("/etc/localtime")
		_, name, _ = strings.Cut(path, "zoneinfo/")
	} else if name == "" {
		name = "UTC" // what an empty TZ means
	}
	if check(name) != nil {
		return ""
	}
	if _, err := time.LoadLocation(name); err != nil {
		return ""
	}
	return name
}

// Lookup returns how far the clocks of a zone stand ahead of UTC at from, and
// how they are moved after from and up to to, to included.
//
// Errors: [ErrUnknown] for a name that the database does not have.
func Lookup(name string, from, to time.Time) (first time.Duration, changes []civil.Change, err error) {
	if err := check(name); err != nil {
		return 0, nil, err
	}
	place, err := time.LoadLocation(name)
	if err != nil {
		return 0, nil, unknown(name)
	}
	first, changes = walk(func(unix int64) int64 {
		_, s := time.Unix(unix, 0).In(place).Zone()
		return int64(s)
	}, from.Unix(), to.Unix())
	return first, changes, nil
}

// Names returns the zones that the machine's own database lists, sorted; none
// if it has no such files.
func Names() []string {
	const root = "/usr/share/zoneinfo"
	var names []string
	filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		name := strings.TrimPrefix(strings.TrimPrefix(path, root), "/")
		switch {
		case err != nil || name == "":
		case d.IsDir() && (name == "posix" || name == "right"):
			return fs.SkipDir // the same zones once more
		case !d.IsDir() && check(name) == nil && !strings.Contains(name, "-00"):
			if _, err := time.LoadLocation(name); err == nil {
				names = append(names, name)
			}
		}
		return nil
	})
	slices.Sort(names)
	return names
}
