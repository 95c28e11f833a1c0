package cli

import (
	"wyewright/plots"
)

func (s *comparison) figure() (*plots.Figure, error) { return nil, nil }
