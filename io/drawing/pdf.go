package drawing

import (
	"codeberg.org/go-pdf/fpdf"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
)

// AddFonts gives a document the fonts of the drawings: [Family], regular and bold. What is printed
// with them first passes [Drawable]: characters that the fonts lack would end in an error.
func AddFonts(pdf *fpdf.Fpdf) {
	pdf.AddUTF8FontFromBytes(Family, "", goregular.TTF)
	pdf.AddUTF8FontFromBytes(Family, "B", gobold.TTF)
}

// grey is how dark an ink is in PDF and PNG: 0 is black.
var grey = map[Ink]int{Black: 0, Pale: 0x66, Paper: 0xff}

// millimetres are what a document is measured in.
func millimetres(n int) float64 { return float64(n) / 1000 }

// PDF draws a scene on the page of a document that is measured in mm, its top left corner at x, y.
// The document has the fonts of [AddFonts]. Errors are the document's.
func (s *Scene) PDF(pdf *fpdf.Fpdf, x, y float64) {
	pdf.SetLineCapStyle("butt")
	for _, shape := range s.Shapes {
		switch z := shape.(type) {
		case *Rect:
			z.pdf(pdf, x, y)
		case *Lines:
			stroke(pdf, z.Ink, z.Line)
			for _, l := range z.Segments {
				pdf.MoveTo(x+millimetres(l.X1), y+millimetres(l.Y1))
				pdf.LineTo(x+millimetres(l.X2), y+millimetres(l.Y2))
			}
			pdf.DrawPath("D")
		case *Text:
			z.pdf(pdf, x, y)
		}
	}
}

func stroke(pdf *fpdf.Fpdf, ink Ink, line int) {
	pdf.SetDrawColor(grey[ink], grey[ink], grey[ink])
	pdf.SetLineWidth(millimetres(line))
}

func (r *Rect) pdf(pdf *fpdf.Fpdf, x, y float64) {
	style := "F"
	if r.Stroke != None {
		stroke(pdf, r.Stroke, r.Line)
		style = "D"
	} else {
		pdf.SetFillColor(grey[r.Fill], grey[r.Fill], grey[r.Fill])
	}
	pdf.Rect(x+millimetres(r.X), y+millimetres(r.Y), millimetres(r.Wide), millimetres(r.High),
		style)
}

func (t *Text) pdf(pdf *fpdf.Fpdf, x, y float64) {
	style := ""
	if t.Bold {
		style = "B"
	}
	pdf.SetFont(Family, style, 0)
	pdf.SetFontUnitSize(millimetres(t.Size))
	pdf.SetTextColor(0, 0, 0)
	x, y = x+millimetres(t.X), y+millimetres(t.Y)
	if t.Up {
		pdf.TransformBegin()
		pdf.TransformRotate(90, x, y)
		defer pdf.TransformEnd()
	}
	pdf.Text(x, y, Drawable(t.Text))
}
