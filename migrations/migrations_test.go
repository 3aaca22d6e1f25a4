package migrations

import (
	"crypto/sha256"
	"fmt"
	"io/fs"
	"testing"
)

// published holds the SHA-256 of every migration that data files may have run.
// Lines are only ever added here.
var published = map[string]string{
	"0001_the_wall.sql":          "8c14ea0384c96c457ab1677c27bada584f34a12084ef37d6294b4cd9f3ced820",
	"0002_statements.sql":        "3c775809c8411a3eb231824dc2373158d94de4d795805620dbbc3a065de8ab34",
	"0003_gaze.sql":              "de49d9b6fa0ea5da01eae25f9e8c6ab35a8f2b13063adc1e4feac3da55350209",
	"0004_tracks.sql":            "62582f5fdf25bf44760c07810324ed5ae98e072b888e9179083623c13d1215a0",
	"0005_kept_apart.sql":        "3c4a6b9e26fa307f1ac32cb0d81d04480fd9cecdd6ab438a8b9878868e146602",
	"0006_binding.sql":           "0771cd0796770d2b829b23edee6bd516bd8453ae7eedd1fb8f31f186b1d3c101",
	"0007_lines.sql":             "eb6430b216fb0f90d3a8a598b1ca1198ff8638620fe3a315d54365f678d86b21",
	"0008_notes.sql":             "bcdf23a58fcd7c35d53f6384217670fc9a23fdc786bbfce9cfaf534a32747459",
	"0009_printer_profiles.sql":  "aeef80c941c838b80d529c23991249cc15f3cc28aea8da499d5fd0378c011a9b",
	"0010_pages.sql":             "3d00a83815dcb0151dc00bd19ce98566b5302cc2c91c69730815da1cdb7b136c",
	"0011_inquiry.sql":           "34ae8d1be75f1b1b411b2ef3d573121c79b3eac32cd8599c29e9111de35d506b",
	"0012_copies.sql":            "b2250955bdca0a2f8af71af3edba5dfcb57916426c21c1fb28ed4ae1d820eb88",
	"0013_covers.sql":            "c16d41d00c8e024aa597195e0c5510bb004e7c004d39f02fcfc8983a7f6dff75",
	"0014_parcels.sql":           "9d6f82cf85941917064ff2c05b2f7ef88ad62db37692b23857fbb0333993bb88",
	"0015_proofs.sql":            "86946cccdfb366a335d91a720747f1689698e85ed9628be6462f3bb677e96d20",
	"0016_parcels_of_titles.sql": "cf9b10dfb52932f9c60cf89594d44ef8f48091c339a21295f87dc7378f4a87e0",
}

func TestPublishedMigrationsNeverChange(t *testing.T) {
	names, err := fs.Glob(Files, "*")
	if err != nil {
		t.Fatal(err)
	}
	if len(names) != len(published) {
		t.Errorf("there are %d migrations, of which %d are listed as published: %v", len(names), len(published), names)
	}
	for i, name := range names {
		var number int
		if _, err := fmt.Sscanf(name, "%04d_", &number); err != nil || number != i+1 {
			t.Errorf("%s is not numbered %04d", name, i+1)
		}
		content, err := Files.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		if sum := fmt.Sprintf("%x", sha256.Sum256(content)); sum != published[name] {
			t.Errorf("%s has SHA-256 %s: a published migration is put right by the next one, a new one is listed here", name, sum)
		}
	}
}
