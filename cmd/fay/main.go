// Command fay plans and proves welded joints between plates of unequal
// thickness.
package main

import (
	"os"

	"fay/cmd/fay/internal/cli"
)

func main() {
	os.Exit(cli.Main(os.Args[1:], cli.Process()))
}
