package cli

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"fay/geometry"
	"fay/joints"
	"fay/joints/jointfile"
	"fay/render"
	"fay/render/png"
	"fay/render/sheet"
)

// The pictures of a gallery: the room for a figure in mm, dots per inch of
// figures and of sheets.
const (
	galleryWide, galleryHigh    = 190, 160
	galleryDPI, gallerySheetDPI = 80, 110
)

// gallery writes the pictures that the documents show. Contributors run it; it
// is left out of the list of commands.
func (a *app) gallery() *cobra.Command {
	return &cobra.Command{
		Use:    "gallery FOLDER [FILE …]",
		Short:  "Draw every kind's example, and joint files as travelers, for the documents",
		Hidden: true,
		Long: `gallery draws the example of every kind in both drafting styles into a folder,
with a page GALLERY.md that shows them. Joint files named behind the folder are
drawn as travelers under their own name.`,
		Example: "  fay gallery testdata/gallery testdata/examples/davit-foot.yaml",
		RunE:    func(_ *cobra.Command, args []string) error { return a.runGallery(args) },
	}
}

// galleryStyles are the two drafting styles as a gallery shows them.
var galleryStyles = []struct {
	name    string
	title   string
	options sheet.Options
}{
	{"iso", "ISO, millimetres", sheet.Options{}},
	{"us", "US, inches", sheet.Options{Language: render.LanguageUS, Unit: geometry.UnitInch, Denominator: 16}},
}

func (a *app) runGallery(args []string) error {
	if len(args) == 0 {
		return usage("no folder named", "name the folder to draw into, such as testdata/gallery")
	}
	folder := args[0]
	if info, err := os.Stat(folder); err != nil || !info.IsDir() {
		return usage(folder+": is no folder", "make it first")
	}
	var page bytes.Buffer
	printf(&page, "# Gallery\n\nThe example of every kind of joint, drawn by `fay gallery`; do not edit.\nThe pictures show shapes and dimensions. They say nothing of strength: the local code and licensed practice decide.\n")
	for i := range joints.Kinds {
		kind := &joints.Kinds[i]
		printf(&page, "\n## %s\n\n%s.\n\n    fay draw %s -o %s.pdf\n\n", kind.Title, kind.Doc, kind.Example, kind.Name)
		args := strings.Fields(kind.Example)
		doc, err := jointfile.Read(jointfile.Source{Kind: args[0], Assignments: args[1:]})
		if err != nil {
			return fmt.Errorf("example of %s: %w", kind.Name, err)
		}
		var heads, pictures []string
		for _, style := range galleryStyles {
			d, _, err := sheet.Figure(&doc.Section, style.options, galleryWide, galleryHigh)
			if err != nil {
				return fmt.Errorf("example of %s: %w", kind.Name, err)
			}
			name := kind.Name + "-" + style.name + ".png"
			if err := writePicture(filepath.Join(folder, name), d, galleryDPI); err != nil {
				return err
			}
			heads = append(heads, style.title)
			pictures = append(pictures, fmt.Sprintf("![%s, %s](%s)", kind.Title, style.title, name))
		}
		printf(&page, "| %s |\n|%s\n| %s |\n", strings.Join(heads, " | "), strings.Repeat("---|", len(heads)), strings.Join(pictures, " | "))
	}
	for _, file := range args[1:] {
		if err := a.galleryTraveler(&page, folder, file); err != nil {
			return err
		}
	}
	return writeFile(filepath.Join(folder, "GALLERY.md"), page.Bytes())
}

// galleryTraveler draws the first sheet of a joint file.
func (a *app) galleryTraveler(page *bytes.Buffer, folder, file string) error {
	j, err := a.joint([]string{file})
	if err != nil {
		return err
	}
	pages, err := a.pages(&drawOptions{}, []*job{j})
	if err != nil {
		return err
	}
	name := strings.TrimSuffix(filepath.Base(file), filepath.Ext(file)) + ".png"
	if err := writePicture(filepath.Join(folder, name), pages[0], gallerySheetDPI); err != nil {
		return err
	}
	printf(page, "\n## Traveler: %s\n\n![Traveler of the %s](%s)\n", j.doc.Section.Title, j.doc.Section.Title, name)
	return nil
}

func writePicture(path string, d *render.Drawing, dpi float64) error {
	var out bytes.Buffer
	if err := png.Write(&out, d, dpi); err != nil {
		return fmt.Errorf("draw: %w", err)
	}
	return writeFile(path, out.Bytes())
}
