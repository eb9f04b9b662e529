// Package sites embeds the example descriptions, so that the command runs without a
// file. They are inventions of this project.
package sites

import "embed"

// Files holds every example by its name.
//
//go:embed *.toml
var Files embed.FS

// Example is the name of the one that the command runs without a file.
const Example = "apple-fair.toml"
