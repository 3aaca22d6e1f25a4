package press

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"time"

	"pairwall/sequence/colour"
	"pairwall/sequence/press/pdf"
)

// Intent is the printing condition a file is made for (ISO 32000-1, 14.11.5).
type Intent struct {
	Name    string // of the condition, as the profile has it
	Profile []byte // ICC, of RGB or CMYK
}

// SRGB is the intent while the maker has no profile of the printer's.
func SRGB() *Intent { return &Intent{Name: "sRGB IEC61966-2.1", Profile: colour.SRGBProfile()} }

// inks tells whether colours are made of ink rather than of light.
func (i Intent) inks() bool { return componentsOf(i.Profile) == 4 }

// Unmet lists what PDF/X-4 asks and a file for this intent cannot meet, each as
// a sentence with the way out; nothing when all is met.
func (i Intent) Unmet() []string {
	if len(i.Profile) >= 128 && string(i.Profile[12:16]) == "prtr" {
		return nil
	}
	return []string{"PDF/X-4 asks for the profile of a printing press, and sRGB is that of a screen: give the profile your printer names. All else that it asks is met."}
}

// identify says in the file what it is made for, as PDF/X-4 asks (ISO 15930-7,
// of which secondary pages were read): the output intent, that nothing is
// trapped, and the same as XMP in a stream that is not compressed.
func (d *Document) identify(root, info pdf.Dict) {
	i := d.about.Intent
	components := componentsOf(i.Profile)
	profile := d.w.AddStream(pdf.Dict{"N": components}, i.Profile)
	intent := d.w.Add(pdf.Dict{"Type": pdf.Name("OutputIntent"), "S": pdf.Name("GTS_PDFX"),
		"OutputConditionIdentifier": pdf.Text(i.Name), "Info": pdf.Text(i.Name), "DestOutputProfile": profile})
	root["OutputIntents"] = pdf.Array{intent}
	info["Trapped"] = pdf.Name("False")
	root["Metadata"] = d.w.AddPlain(pdf.Dict{"Type": pdf.Name("Metadata"), "Subtype": pdf.Name("XML")}, d.packet())
}

// packet is the file's XMP (ISO 16684-1). Its identifiers come from what the file
// holds, so that the same input makes the same bytes.
func (d *Document) packet() []byte {
	sum := d.w.Digest()
	made := d.about.Made.UTC().Format(time.RFC3339)
	id := func(b []byte) string {
		return fmt.Sprintf("uuid:%x-%x-%x-%x-%x", b[:4], b[4:6], b[6:8], b[8:10], b[10:16])
	}
	var title bytes.Buffer
	_ = xml.EscapeText(&title, []byte(d.about.Title)) // a buffer takes everything
	return fmt.Appendf(nil, `<?xpacket begin="%s" id="W5M0MpCehiHzreSzNTczkc9d"?>
<x:xmpmeta xmlns:x="adobe:ns:meta/">
 <rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#">
  <rdf:Description rdf:about="" xmlns:dc="http://purl.org/dc/elements/1.1/" xmlns:xmp="http://ns.adobe.com/xap/1.0/" xmlns:xmpMM="http://ns.adobe.com/xap/1.0/mm/" xmlns:pdf="http://ns.adobe.com/pdf/1.3/" xmlns:pdfxid="http://www.npes.org/pdfx/ns/id/">
   <dc:format>application/pdf</dc:format>
   <dc:title><rdf:Alt><rdf:li xml:lang="x-default">%s</rdf:li></rdf:Alt></dc:title>
   <xmp:CreateDate>%s</xmp:CreateDate>
   <xmp:ModifyDate>%[3]s</xmp:ModifyDate>
   <xmp:MetadataDate>%[3]s</xmp:MetadataDate>
   <xmpMM:DocumentID>%[4]s</xmpMM:DocumentID>
   <xmpMM:InstanceID>%[5]s</xmpMM:InstanceID>
   <xmpMM:VersionID>1</xmpMM:VersionID>
   <xmpMM:RenditionClass>default</xmpMM:RenditionClass>
   <pdf:Producer>%[6]s</pdf:Producer>
   <pdf:Trapped>False</pdf:Trapped>
   <pdfxid:GTS_PDFXVersion>PDF/X-4</pdfxid:GTS_PDFXVersion>
  </rdf:Description>
 </rdf:RDF>
</x:xmpmeta>
<?xpacket end="r"?>`, "\uFEFF", title.String(), made, id(sum[:16]), id(sum[16:]), producer)
}

// registration is the colour space of marks that every plate carries (ISO
// 32000-1, 8.6.6.4).
func (d *Document) registration() pdf.Ref {
	if d.all == 0 {
		alternate, tint := pdf.Name("DeviceRGB"), pdf.Dict{"FunctionType": 2, "Domain": pdf.Numbers(0, 1), "N": 1, "C0": pdf.Numbers(1, 1, 1), "C1": pdf.Numbers(0, 0, 0)}
		if d.about.Intent == nil || d.about.Intent.inks() {
			alternate, tint["C0"], tint["C1"] = "DeviceCMYK", pdf.Numbers(0, 0, 0, 0), pdf.Numbers(1, 1, 1, 1)
		}
		d.all = d.w.Add(pdf.Array{pdf.Name("Separation"), pdf.Name("All"), alternate, tint})
	}
	return d.all
}
