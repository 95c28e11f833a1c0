package cli

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"

	"wyewright/cmd/internal/project"
	"wyewright/network/shopfile"
	"wyewright/plots"
)

// Names of the files that a redesign writes, besides its pictures.
const (
	shopName  = "shop.yaml"
	planName  = "plan.json"
	csvName   = "parts.csv"
	cutsName  = "cuts.csv"
	billName  = "parts.md"
	bookName  = "parts.xlsx"
	cardName  = "gate-card.md"
	pageName  = "report.html"
	sheetName = "measuring-sheet.html"
	extraSVG  = ".svg"
	extraPNG  = ".png"
	dirMode   = 0o755
	noteClose = "Closest plan: it does NOT meet what you set. "
)

// pictureNames are the pictures that a redesign can write.
var pictureNames = []string{"trade-off", "power", "fan", "flow", "velocity", "plan", "isometric"}

// outputNames are all the files that a redesign can write.
func outputNames() []string {
	out := []string{shopName, planName, csvName, cutsName, billName, bookName, cardName, pageName, sheetName}
	for _, p := range pictureNames {
		out = append(out, p+extraSVG, p+extraPNG)
	}
	for _, name := range stageNames() {
		out = append(out, filepath.Join(stagesName, name))
	}
	return append(out, stagesName) // the folder goes where nothing is left in it
}

// checkFolder refuses a folder that holds files already, and even with force
// one in which a file that the redesign reads would be written over.
func checkFolder(p *project.Project, o *redesignOptions) error {
	if name := p.File.Prices.Path; name != "" && slices.Contains(outputNames(), filepath.Clean(name)) {
		return fail(Usage, fmt.Errorf("the price file %s has the name of a file that redesign writes", name), "give it another name")
	}
	return freeFolder(o.dir, o.force, "a redesign", inputs(o.file, p), outputNames())
}

// inputs are the files that a shop is read from.
func inputs(file string, p *project.Project) []string {
	out := []string{file}
	for _, beside := range []string{p.File.Prices.Path, p.File.ReadingsPath, p.File.RunsPath, p.File.PointsPath} {
		if beside != "" {
			out = append(out, filepath.Join(filepath.Dir(file), beside))
		}
	}
	return out
}

// freeFolder refuses a folder that holds files already, and even with force one
// in which a file that is read would be written over. An empty name of a folder
// is none to write into.
func freeFolder(dir string, force bool, wrote string, reads, writes []string) error {
	if dir == "" {
		return nil
	}
	entries, err := os.ReadDir(dir)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil
	case err != nil:
		return fail(Usage, err, "give another folder with -o")
	case len(entries) > 0 && !force:
		return fail(Usage, fmt.Errorf("folder %s has files in it", dir), "give another folder with -o, or --force to write over what "+wrote+" wrote")
	}
	for _, in := range reads {
		a, err := os.Stat(in)
		if err != nil {
			continue
		}
		for _, name := range writes {
			if b, err := os.Stat(filepath.Join(dir, name)); err == nil && os.SameFile(a, b) {
				return fail(Usage, fmt.Errorf("%s would be written over", in), "give another folder with -o: what is read is never written over")
			}
		}
	}
	return nil
}

// folder writes files into a folder and remembers their names.
type folder struct {
	dir   string
	names []string
}

// put writes one file, unless making its text failed.
func (f *folder) put(name string, data []byte, err error) error {
	if err == nil {
		err = os.MkdirAll(filepath.Dir(filepath.Join(f.dir, name)), dirMode)
	}
	if err == nil {
		err = writeFile(filepath.Join(f.dir, name), data)
	}
	if err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	f.names = append(f.names, name)
	return nil
}

// writeFolder writes everything a redesign leaves behind and returns the
// names of the files.
func (a *app) writeFolder(o *outcome, opt *redesignOptions) ([]string, error) {
	shop, err := o.shopFile()
	if err != nil {
		return nil, fmt.Errorf("%s: %w", shopName, err)
	}
	_, err = os.Stat(filepath.Join(opt.dir, planName))
	again := err == nil
	f := &folder{dir: opt.dir}
	plan, err := json.MarshalIndent(o.planJSON(), "", "  ")
	if err := errors.Join(f.put(shopName, shop, nil), f.put(planName, append(plan, '\n'), err)); err != nil {
		return nil, err
	}
	if err := errors.Join(o.putPrices(f), o.putBill(f), o.putWorkbook(f), f.put(cardName, o.gateCard(), nil)); err != nil {
		return nil, err
	}
	if !opt.noPlots {
		if err := o.putPictures(f); err != nil {
			return nil, err
		}
	}
	if o.staged != nil {
		names, err := o.writeStages(filepath.Join(opt.dir, stagesName), !opt.noPlots)
		if err != nil {
			return nil, err
		}
		for _, name := range names {
			f.names = append(f.names, filepath.Join(stagesName, name))
		}
	}
	if err := o.putSheet(f); err != nil {
		return nil, err
	}
	page, err := o.page(context.Background(), "")
	if err := f.put(pageName, page, err); err != nil {
		return nil, err
	}
	if again { // pictures of an older plan would mislead
		for _, name := range outputNames() {
			if !slices.Contains(f.names, name) {
				_ = os.Remove(filepath.Join(opt.dir, name)) // most are not there
			}
		}
	}
	return gathered(f.names), nil
}

// putPrices copies the price file that the shop names, so that the new shop
// file finds it where it says.
func (o *outcome) putPrices(f *folder) error {
	name := o.p.File.Prices.Path
	if name == "" {
		return nil
	}
	name = filepath.Clean(name)
	data, err := fs.ReadFile(o.p.Folder, filepath.ToSlash(name))
	if old, rerr := os.ReadFile(filepath.Join(f.dir, name)); err == nil && rerr == nil && bytes.Equal(old, data) {
		return nil // there already, perhaps the very file
	}
	return f.put(name, data, err)
}

// putBill writes the bill, and the cut list as a table of its own.
func (o *outcome) putBill(f *folder) error {
	var csv, cuts, md bytes.Buffer
	err := o.bill.WriteCSV(&csv)
	if err := f.put(csvName, csv.Bytes(), err); err != nil {
		return err
	}
	if len(o.bill.Cuts) > 0 {
		err = o.bill.WriteCutsCSV(&cuts)
		if err := f.put(cutsName, cuts.Bytes(), err); err != nil {
			return err
		}
	}
	fmt.Fprintf(&md, "# Bill of materials and work: %s\n\n%s%s\n\n", o.p.File.Name, o.closest(), o.verdictLine())
	err = o.bill.WriteMarkdown(&md, o.sys)
	md.WriteString(o.billLater())
	return f.put(billName, md.Bytes(), err)
}

// closest marks a plan that does not meet what was set, or not until a tool comes.
func (o *outcome) closest() string {
	switch {
	case !allMeet(o.result.States):
		return noteClose
	case len(o.capped) > 0:
		return "Not yet: " + o.cappedLine() + ". "
	}
	return ""
}

// putPictures writes every picture as SVG and PNG.
func (o *outcome) putPictures(f *folder) error {
	for _, pic := range o.pictures() {
		if err := f.putPicture(pic.name, pic.draw); err != nil {
			return err
		}
	}
	return nil
}

// putPicture writes one picture in both forms.
func (f *folder) putPicture(name string, draw func() (*plots.Figure, error)) error {
	fig, err := draw()
	if err != nil {
		return fmt.Errorf("picture %s: %w", name, err)
	}
	svg, err := fig.SVG()
	if err := f.put(name+extraSVG, svg, err); err != nil {
		return err
	}
	png, err := fig.PNG(pictureDPI)
	return f.put(name+extraPNG, png, err)
}

// pictureDPI is the resolution of the PNG pictures.
const pictureDPI = 144

// shopFile is the redesigned shop as a file. It is read and solved again, with
// the states as the file has them: what it says must be what the plan says.
func (o *outcome) shopFile() ([]byte, error) {
	return o.shopText("Redesigned by wyewright: " + o.closest() + o.verdictLine())
}

// shopText is shopFile with a heading of its own.
func (o *outcome) shopText(head string) ([]byte, error) {
	edits := o.p.Edits(o.problem, o.result, head)
	for _, s := range o.p.File.States {
		if len(s.Running) == 0 { // no rule binds it: it stays as it is
			edits.States = append(edits.States, s)
		}
	}
	text, err := o.p.File.Rewrite(edits)
	if err != nil {
		return nil, err
	}
	f, err := shopfile.Decode(shopName, text, o.p.Catalog)
	if err != nil {
		return nil, err
	}
	p, err := project.New(f, o.p.Catalog, o.p.Folder)
	if err != nil {
		return nil, err
	}
	again, err := asItStands(context.Background(), p) // what comes later included
	if err != nil {
		return nil, err
	}
	if len(again) != len(o.result.States) {
		return nil, fmt.Errorf("the file written has %d states, the plan %d: please report this", len(again), len(o.result.States))
	}
	for i, s := range o.result.States {
		was, is := s.Solution.Collector.Flow, again[i].Solution.Collector.Flow
		if again[i].Verdict.Meets() != s.Verdict.Meets() || !near(float64(is), float64(was)) {
			return nil, fmt.Errorf("state %q: the file written gives %s and %s what was set, the plan %s and %s: please report this",
				s.State.Name, is.Text(o.sys), verdictWord(again[i].Verdict), was.Text(o.sys), verdictWord(s.Verdict))
		}
	}
	return text, o.heldNow(p)
}

// near reports whether two flows agree to a millionth.
func near(a, b float64) bool { return a-b <= 1e-6*b && b-a <= 1e-6*b }
