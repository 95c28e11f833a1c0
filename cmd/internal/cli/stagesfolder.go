package cli

import (
	"bytes"
	"encoding/json"
	"fmt"
)

// stagesName is the name, without its ending, of what tells of all stages.
const stagesName = "stages"

// stageFile names a file of one stage: its shop, card or bill.
func stageFile(i int, what string) string { return fmt.Sprintf("stage-%d%s", i+1, what) }

// writeStages writes everything about the stages: the text, the same for
// programs, the picture, and for each stage its shop file, gate card and bill.
func (o *outcome) writeStages(f *folder) ([]string, error) {
	var md bytes.Buffer
	err := o.writeMD(&md)
	if err := f.put(stagesName+".md", md.Bytes(), err); err != nil {
		return nil, err
	}
	data, err := json.MarshalIndent(o.stagesJSON(), "", "  ")
	if err := f.put(stagesName+".json", append(data, '\n'), err); err != nil {
		return nil, err
	}
	if err := o.putPrices(f); err != nil {
		return nil, err
	}
	for i := range o.staged.Stages {
		if err := o.putStage(f, i); err != nil {
			return nil, err
		}
	}
	return f.names, nil
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
	shop, err := now.shopText(fmt.Sprintf("After %s of %d of a redesign by wyewright, for %s in all: %s.", name, len(o.staged.Stages),
		o.p.Currency.Text(st.Spent), o.doesLine(i)))
	if err := f.put(stageFile(i, ".yaml"), shop, err); err != nil {
		return err
	}
	note := ""
	if !allMeet(st.States) {
		note = "A stage on the way: not everything that you set is met yet."
	}
	if err := f.put(stageFile(i, "-gate-card.md"), cardText(o.p.File.Name+", after "+name, note, st.States), nil); err != nil {
		return err
	}
	var bill bytes.Buffer
	fmt.Fprintf(&bill, "# Bill of materials and work: %s, %s\n\n", o.p.File.Name, name)
	err = o.p.Builder.Bill(st.Lines).WriteMarkdown(&bill)
	for k, l := range cutLines(o.p.Builder.CutList(st.Lines), o.sys) {
		if k == 0 {
			bill.WriteString("\n## Cut list\n\n")
		}
		fmt.Fprintf(&bill, "- %s\n", l)
	}
	return f.put(stageFile(i, "-parts.md"), bill.Bytes(), err)
}
