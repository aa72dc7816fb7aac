package web

import (
	"bytes"
	"crypto/sha256"
	"embed"
	"fmt"
	"io/fs"
	"net/http"
	"path"
	"time"

	"dwellwright/draw"
)

//go:embed static
var staticFiles embed.FS

// asset is a file the page uses.
type asset struct {
	data []byte
	tag  string
}

var kinds = map[string]string{
	".css": "text/css; charset=utf-8",
	".js":  "text/javascript; charset=utf-8",
	".svg": "image/svg+xml",
}

// assets reads the embedded files and writes the one that is made: tones.css,
// the colours of page and pictures in each theme.
func assets() (map[string]asset, error) {
	out := map[string]asset{}
	add := func(name string, data []byte) {
		out[name] = asset{data, fmt.Sprintf("%q", fmt.Sprintf("%x", sha256.Sum256(data))[:24])}
	}
	err := fs.WalkDir(staticFiles, "static", func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || kinds[path.Ext(p)] == "" {
			return err
		}
		data, err := staticFiles.ReadFile(p)
		add(path.Base(p), data)
		return err
	})
	add("tones.css", []byte(tones()))
	return out, err
}

// tones is the style sheet of the three themes. Without a choice the page
// follows the system.
func tones() string {
	var b bytes.Buffer
	b.WriteString(draw.PaletteCSS(":root", draw.Light()))
	fmt.Fprintf(&b, "@media (prefers-color-scheme: dark) {\n%s}\n", draw.PaletteCSS(":root", draw.Dark()))
	fmt.Fprintf(&b, "@media (prefers-contrast: more) {\n%s}\n", draw.PaletteCSS(":root", draw.HighContrast()))
	b.WriteString(draw.PaletteCSS(":root[data-theme=light]", draw.Light()))
	b.WriteString(draw.PaletteCSS(":root[data-theme=dark]", draw.Dark()))
	b.WriteString(draw.PaletteCSS(":root[data-theme=contrast]", draw.HighContrast()))
	b.WriteString(draw.StyleCSS())
	return b.String()
}

func (s *Server) static(w http.ResponseWriter, r *http.Request) {
	name := r.PathValue("name")
	a, ok := s.assets[name]
	if !ok {
		refuse(w, http.StatusNotFound, "There is no such file.")
		return
	}
	w.Header().Set("Content-Type", kinds[path.Ext(name)])
	w.Header().Set("Cache-Control", "no-cache")
	w.Header().Set("ETag", a.tag)
	http.ServeContent(w, r, name, time.Time{}, bytes.NewReader(a.data))
}
