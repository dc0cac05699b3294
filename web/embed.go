// Package web holds what the site is made of beside the Go program: the page,
// the boot script, the service worker, styles, icons, fonts and the schemas
// of the documents. Only cmd/server imports it; the client never does, or it
// would carry itself.
package web

import "embed"

// Files are the sources of the site, with their paths in this folder.
// index.html, 404.html and sw.js are templates; cmd/server says of what.
//
//go:embed *.html *.js *.txt *.schema.json css/*.css fonts/*.woff2 fonts/*.txt icons/*.svg icons/*.png towns/*.bin
var Files embed.FS
