package cli

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"wyewright/cmd/internal/project"
	"wyewright/network/catalog"
)

// settledLists are the lists of the flags that settle something.
func settledLists(p *project.Project, o *compareOptions) ([][]want, error) {
	var out [][]want
	runs, err := trunkRuns(p, o)
	if err != nil {
		return nil, err
	}
	add := func(names []string, of func(name string) (project.Settled, error)) error {
		var l []want
		for _, name := range names {
			s, err := of(name)
			if err != nil {
				return err
			}
			l = append(l, want{name: name, settled: s})
		}
		if len(l) > 0 {
			out = append(out, l)
		}
		return nil
	}
	err = errors.Join(
		add(list(o.trunk), func(name string) (project.Settled, error) {
			_, err := catalog.ParseSize(name)
			if err != nil {
				err = fail(Usage, fmt.Errorf("--trunk %q: not a size", name), `write sizes with their unit, as makers name them: --trunk "4 in, 5 in" or "125 mm, 160 mm"`)
			}
			return project.Settled{Size: name, Runs: runs}, err
		}),
		add(list(o.family), func(name string) (project.Settled, error) {
			return project.Settled{Family: name}, knownFamily(p, name)
		}),
		add(inletNames(o), func(name string) (project.Settled, error) {
			if name == noInlet {
				return project.Settled{Bleed: project.NoBleed}, nil
			}
			if len(p.File.BleedPoints) == 0 {
				return project.Settled{}, fail(Usage, project.ErrNoBleedPoint, "list such points under bleeds, as in: bleeds: [J5]")
			}
			return project.Settled{Bleed: project.WithBleed}, nil
		}),
		add(list(o.collector), func(name string) (project.Settled, error) {
			var err error
			if !slices.Contains(p.CollectorNames(), name) {
				err = fail(Usage, fmt.Errorf("--collector %q: there is no such collector at %s", name, p.Network.Spec().Collectors[0].At),
					"the file has: "+strings.Join(p.CollectorNames(), "; ")+" (part names by semicolons where one has a comma)")
			}
			return project.Settled{Collector: name}, err
		}))
	if err == nil && len(out) > 0 && !p.Network.IsTree() {
		err = fail(FileInvalid, project.ErrNoTree, "--set and other files can be compared")
	}
	return out, err
}

// Names of what is settled of bleed inlets.
const noInlet, withInlet = "no bleed inlet", "a bleed inlet"

// inletNames are those that were asked for: the shop as found has none to be
// built, unless they are combined with others or searched around.
func inletNames(o *compareOptions) []string {
	switch {
	case !o.bleed:
		return nil
	case o.optimise || o.each || o.noAsFound:
		return []string{noInlet, withInlet}
	}
	return []string{withInlet}
}

// trunkRuns are the runs that the trunk sizes are for.
func trunkRuns(p *project.Project, o *compareOptions) ([]string, error) {
	if o.trunk == "" {
		return nil, nil
	}
	runs := list(o.runs)
	for _, id := range runs {
		if _, ok := p.Network.RunIndex(id); !ok {
			var all []string
			for _, r := range p.Network.Spec().Runs {
				all = append(all, r.ID)
			}
			return nil, fail(Usage, fmt.Errorf("--runs %q: no such run in the file", id), "the file has: "+strings.Join(all, ", "))
		}
	}
	if len(runs) == 0 && p.Network.IsTree() {
		if runs = p.Trunk(); len(runs) == 0 {
			return nil, fail(Usage, errors.New("no run of the shop serves more than one tool"), "name the runs that --trunk is about with --runs")
		}
	}
	return runs, nil
}

// knownFamily refuses a family that the catalogue does not have, or of hose.
func knownFamily(p *project.Project, name string) error {
	f, err := p.Catalog.Lookup(name)
	switch {
	case err != nil:
		return fail(Usage, fmt.Errorf("--family %q: no such family of duct", name), "there are: "+strings.Join(p.Catalog.Names(), ", "))
	case f.Hose:
		return fail(Usage, fmt.Errorf("--family %q: that is hose; families of rigid duct are compared", name), "there are: "+strings.Join(rigidNames(p), ", "))
	}
	return nil
}

// rigidNames are the families of rigid duct.
func rigidNames(p *project.Project) []string {
	return slices.DeleteFunc(p.Catalog.Names(), func(name string) bool {
		f, ok := p.Catalog.Family(name)
		return ok && f.Hose
	})
}
