package web_test

import (
	"fmt"
	"io/fs"

	"duskline/web"
)

func ExampleFiles() {
	pages, err := fs.Glob(web.Files, "*.html")
	if err != nil {
		fmt.Println(err)
	}
	schemas, err := fs.Glob(web.Files, "*.schema.json")
	if err != nil {
		fmt.Println(err)
	}
	fmt.Println(pages, schemas)
	// Output: [404.html index.html] [battery.schema.json outlook.schema.json pairing.schema.json plan.schema.json]
}
