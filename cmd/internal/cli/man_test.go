package cli

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "write the manual pages anew")

const manFolder = "../../wyewright/man"

// TestManPages: the pages in cmd/wyewright/man are those of the verbs and topics
// as they are. Written anew by: go test ./cmd/internal/cli -run ManPages -update
func TestManPages(t *testing.T) {
	if *update {
		old, _ := filepath.Glob(manFolder + "/*.1")
		for _, name := range old {
			if err := os.Remove(name); err != nil {
				t.Error(err)
			}
		}
		if err := os.MkdirAll(manFolder, dirMode); err != nil {
			t.Fatal(err)
		}
		if err := writePages(manFolder); err != nil {
			t.Fatal(err)
		}
	}
	pages, err := manPages()
	if err != nil {
		t.Fatal(err)
	}
	there, _ := filepath.Glob(manFolder + "/*")
	if len(there) != len(pages) {
		t.Errorf("%d files in %s, %d pages", len(there), manFolder, len(pages))
	}
	for _, p := range pages {
		got, err := os.ReadFile(filepath.Join(manFolder, p.name))
		if err != nil || !bytes.Equal(got, p.text) {
			t.Errorf("%s is not up to date: run this test with -update", p.name)
		}
		if !bytes.HasPrefix(p.text, []byte(".nh\n.TH \"WYEWRIGHT")) || strings.Contains(string(p.text), "0001") {
			t.Errorf("%s: begins %.80q", p.name, p.text)
		}
	}
}
