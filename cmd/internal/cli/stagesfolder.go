package cli

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"

	"wyewright/plots"
)

// stagesName is the name, without its ending, of what tells of all stages.
const stagesName = "stages"

// stageFile names a file of one stage: its shop, card or bill.
func stageFile(i int, what string) string { return fmt.Sprintf("stage-%d%s", i+1, what) }

// stageNames are all the files about stages that may be written.
func stageNames() []string {
	out := []string{stagesName + ".md", stagesName + ".json", stagesName + "." + workbookFormat, stagesName + extraSVG, stagesName + extraPNG}
	for i := range mostStages + 1 { // and the rest
		for _, what := range []string{".yaml", "-gate-card.md", "-parts.md"} {
			out = append(out, stageFile(i, what))
		}
	}
	return out
}

// gathered are the names of files for a person: what to read first at the
// front, pictures and the files of the stages by their number.
func gathered(names []string) []string {
	var out []string
	drawn, staged := 0, 0
	for _, name := range names {
		switch ext := filepath.Ext(name); {
		case filepath.Dir(name) == stagesName:
			staged++
		case ext == extraSVG || ext == extraPNG:
			drawn++
		case name == pageName:
			out = slices.Insert(out, 0, name+" (read this first)")
		default:
			out = append(out, name)
		}
	}
	if drawn > 0 {
		out = append(out, fmt.Sprintf("pictures (%d, as SVG and PNG)", drawn/2))
	}
	if staged > 0 {
		out = append(out, fmt.Sprintf("%s (a folder of %d files)", stagesName, staged))
	}
	return out
}

// writeStages writes everything about the stages: the text, the same for
// programs, the picture unless it is not wanted, and for each stage its shop
// file, gate card and bill. What an older order of stages left there goes.
func (o *outcome) writeStages(dir string, picture bool) ([]string, error) {
	f := &folder{dir: dir}
	var md bytes.Buffer
	err := o.writeMD(&md)
	if err := f.put(stagesName+".md", md.Bytes(), err); err != nil {
		return nil, err
	}
	data, err := json.MarshalIndent(o.stagesJSON(), "", "  ")
	if err := f.put(stagesName+".json", append(data, '\n'), err); err != nil {
		return nil, err
	}
	if err := errors.Join(o.putPrices(f), o.putStageBook(f)); err != nil {
		return nil, err
	}
	for i := range o.staged.Stages {
		if err := o.putStage(f, i); err != nil {
			return nil, err
		}
	}
	if picture {
		if err := f.putPicture(stagesName, o.stageFigure); err != nil {
			return nil, err
		}
	}
	for _, name := range stageNames() {
		if !slices.Contains(f.names, name) {
			_ = os.Remove(filepath.Join(dir, name)) // most are not there
		}
	}
	return f.names, nil
}

// stageFigure draws the flow of each tool over the stages.
func (o *outcome) stageFigure() (*plots.Figure, error) {
	d := plots.StageData{Title: o.p.File.Name + ": flow at the tools, stage by stage", Stages: []plots.StageStep{{Name: "as found"}}}
	for i := range o.staged.Stages {
		note := o.p.Currency.Text(o.staged.Stages[i].Cost)
		if o.staged.Stages[i].Empty() {
			note = "nothing yet"
		}
		d.Stages = append(d.Stages, plots.StageStep{Name: stageName(o.staged, i), Note: note})
	}
	for _, s := range o.stageShares() {
		t := plots.StageTool{Name: s.tool}
		for _, x := range s.shares {
			t.Shares = append(t.Shares, 100*max(0, x))
		}
		d.Tools = append(d.Tools, t)
	}
	return plots.StageFlows(d)
}

// putStage writes the files of one stage; one that changes nothing has none.
func (o *outcome) putStage(f *folder, i int) error {
	st := &o.staged.Stages[i]
	if st.Empty() {
		return nil
	}
	name := stageName(o.staged, i)
	now := *o
	now.problem, now.result = st.Problem, st.Result
	after := fmt.Sprintf("%s of %d", name, len(o.staged.Stages))
	if st.Rest {
		after = "all stages"
	}
	head := fmt.Sprintf("After %s of a redesign by wyewright, for %s in all: %s.", after, o.p.Currency.Text(st.Spent), o.doesLine(i))
	if !allMeet(st.States) { // what is open in a state is kept open by a redesign
		head += "\nThe states open what the gate card says: take each \"open\" out that you did not write before a redesign from here."
	}
	shop, err := now.shopText(head)
	if err := f.put(stageFile(i, ".yaml"), shop, err); err != nil {
		return err
	}
	note := ""
	if !allMeet(st.States) {
		note = "A stage on the way: not everything that you set is met yet."
	}
	if err := now.explainGates(context.Background()); err != nil {
		return err
	}
	if err := f.put(stageFile(i, "-gate-card.md"), now.cardText(o.p.File.Name+", after "+name, note), nil); err != nil {
		return err
	}
	var bill bytes.Buffer
	fmt.Fprintf(&bill, "# Bill of materials and work: %s, %s\n\n", o.p.File.Name, name)
	err = o.p.Builder.Bill(st.Lines).WriteMarkdown(&bill, o.sys)
	return f.put(stageFile(i, "-parts.md"), bill.Bytes(), err)
}

// readBill reads the plan of a folder, or with the bill of one stage alone.
func readBill(dir string, stage int) (*jsonPlan, error) {
	if stage == 0 {
		return readPlanFile(dir)
	}
	const hint = "give a folder that redesign or stages -o wrote"
	data, err := os.ReadFile(filepath.Join(dir, stagesName, stagesName+".json"))
	if errors.Is(err, os.ErrNotExist) {
		data, err = os.ReadFile(filepath.Join(dir, stagesName+".json"))
	}
	if errors.Is(err, os.ErrNotExist) {
		err = fmt.Errorf("no stages in %s", dir)
	}
	if err != nil {
		return nil, fail(Usage, err, hint)
	}
	var in jsonStages
	if err := json.Unmarshal(data, &in); err != nil {
		return nil, fail(FileInvalid, fmt.Errorf("%s: %w", dir, err), hint)
	}
	if stage < 0 || stage > len(in.Stages) {
		return nil, fail(Usage, fmt.Errorf("--stage %d: there are %s", stage, count(len(in.Stages), "stage")), fmt.Sprintf("from 1 to %d", len(in.Stages)))
	}
	one := &in.Stages[stage-1]
	return &jsonPlan{Shop: in.Shop + ", " + one.Stage, Verdict: fmt.Sprintf("One of %d stages; their order: %s.", len(in.Stages), in.Status),
		Units: in.Units, Meets: true, Bill: one.Bill}, nil
}
