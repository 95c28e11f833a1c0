// Package ui prints for people: streams, tables and progress.
package ui

import (
	"io"
	"time"
)

// Streams are all that a command sees of the outside.
type Streams struct {
	In       io.Reader
	Out, Err io.Writer
	// Terminal says that Err is a terminal.
	Terminal bool
	Now      func() time.Time
}
