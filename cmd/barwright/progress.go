package main

import (
	"io"

	"github.com/schollz/progressbar/v3"
)

// newProgress returns a function that shows the stages of a long run on a terminal.
func newProgress(w io.Writer) func(stage string, done, total int) {
	var bar *progressbar.ProgressBar
	var now string
	return func(stage string, done, total int) {
		if bar == nil || stage != now {
			if bar != nil {
				bar.Clear()
			}
			now = stage
			bar = progressbar.NewOptions(total, progressbar.OptionSetWriter(w), progressbar.OptionSetDescription(stage),
				progressbar.OptionClearOnFinish(), progressbar.OptionSetWidth(30))
		}
		bar.Set(done)
		if done >= total {
			bar.Clear()
			bar = nil
		}
	}
}
