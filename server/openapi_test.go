package server

import (
	"bytes"
	"context"
	"encoding/json"
	"flag"
	"fmt"
	"net/http"
	"os"
	"reflect"
	"regexp"
	"runtime"
	"slices"
	"strings"
	"testing"
	"time"
	"unicode"

	"github.com/getkin/kin-openapi/openapi3"
	"github.com/getkin/kin-openapi/openapi3gen"

	"pairwall/sequence"
	"pairwall/sequence/edition"
	"pairwall/sequence/edition/ledger"
	"pairwall/sequence/edition/orders"
	"pairwall/sequence/edition/post"
	"pairwall/sequence/edition/quotes"
	"pairwall/sequence/pages"
	"pairwall/sequence/pairing"
	"pairwall/sequence/place"
	"pairwall/sequence/press/preflight"
	"pairwall/sequence/proof"
	"pairwall/server/gate"
	"pairwall/server/route"
	"pairwall/store"
)

var update = flag.Bool("update", false, "write openapi.json anew from the routes table")

func TestOpenAPIDescriptionIsThatOfTheRoutesTable(t *testing.T) {
	text := describeRoutes(t)
	if *update {
		if err := os.WriteFile("openapi.json", text, 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if !bytes.Equal(text, description) {
		t.Fatal("openapi.json is not what the routes table says; write it anew with: go test ./server -run OpenAPI -update")
	}
}

func TestOpenAPIDescriptionIsValid(t *testing.T) {
	doc := loadDescription(t)
	if err := doc.Validate(context.Background()); err != nil {
		t.Fatal(err)
	}
}

func TestOpenAPINamesEveryOperationOnce(t *testing.T) {
	seen := make(map[string]bool)
	for _, line := range routes() {
		name := operation(line)
		if seen[name] || name == "" || !unicode.IsLower(rune(name[0])) {
			t.Errorf("%s %s: operation %q is named twice or badly", line.Method, line.Path, name)
		}
		seen[name] = true
	}
}

func loadDescription(t *testing.T) *openapi3.T {
	t.Helper()
	doc, err := openapi3.NewLoader().LoadFromData(description)
	if err != nil {
		t.Fatal(err)
	}
	return doc
}

// describeRoutes makes the description from the routes table.
func describeRoutes(t *testing.T) []byte {
	t.Helper()
	schemas := openapi3.Schemas{}
	doc := &openapi3.T{OpenAPI: "3.0.3", Info: &openapi3.Info{Title: "Pairwall", Version: "1",
		Description: "What the page and the program say to each other, on this machine only."},
		Paths: openapi3.NewPaths(), Components: &openapi3.Components{Schemas: schemas}}
	refer := func(value any) *openapi3.SchemaRef {
		ref, err := openapi3gen.NewSchemaRefForValue(value, schemas,
			openapi3gen.CreateComponentSchemas(openapi3gen.ExportComponentSchemasOptions{ExportComponentSchemas: true, ExportTopLevelSchema: true}),
			openapi3gen.CreateTypeNameGenerator(schemaName), openapi3gen.SchemaCustomizer(customise))
		if err != nil {
			t.Fatalf("%T: %v", value, err)
		}
		return ref
	}
	refer(titleEvents{})
	for _, line := range routes() {
		doc.AddOperation(describedPath(line), line.Method, describe(line, refer))
	}
	text, err := json.MarshalIndent(doc, "", "  ")
	if err != nil {
		t.Fatal(err)
	}
	return append(text, '\n')
}

func describe(line route.Line[*Server], refer func(any) *openapi3.SchemaRef) *openapi3.Operation {
	op := openapi3.NewOperation()
	op.OperationID, op.Summary = operation(line), line.Doc
	for _, name := range regexp.MustCompile(`\{(\w+)\}`).FindAllStringSubmatch(describedPath(line), -1) {
		op.AddParameter(openapi3.NewPathParameter(name[1]).WithSchema(pathSchema(name[1])))
	}
	for _, p := range line.Query {
		op.AddParameter(openapi3.NewQueryParameter(p.Name).WithDescription(p.Doc).WithRequired(p.Required).
			WithSchema(&openapi3.Schema{Type: &openapi3.Types{p.Kind}}))
	}
	if line.Method != http.MethodGet {
		op.AddParameter(openapi3.NewHeaderParameter(gate.Window).WithRequired(true).
			WithDescription("Names the browser window that writes.").WithSchema(openapi3.NewStringSchema().WithMinLength(1).WithMaxLength(100)))
	}
	if line.Takes != nil {
		op.RequestBody = &openapi3.RequestBodyRef{Value: openapi3.NewRequestBody().WithRequired(true).WithJSONSchemaRef(refer(line.Takes))}
	}
	if line.Upload {
		files := openapi3.NewObjectSchema().WithProperty("files", openapi3.NewArraySchema().WithItems(openapi3.NewStringSchema().WithFormat("binary")))
		files.Required = []string{"files"}
		op.RequestBody = &openapi3.RequestBodyRef{Value: openapi3.NewRequestBody().WithRequired(true).WithFormDataSchema(files)}
	}
	success := openapi3.NewResponse().WithDescription(http.StatusText(line.Status))
	switch {
	case line.Gives != nil:
		success.WithJSONSchemaRef(refer(line.Gives))
	case line.Media == "text/event-stream":
		success.Content = openapi3.Content{line.Media: &openapi3.MediaType{
			Extensions: map[string]any{"x-events": map[string]string{"$ref": "#/components/schemas/TitleEvents"}}}}
	default:
		success.Content = openapi3.Content{line.Media: &openapi3.MediaType{}}
	}
	op.AddResponse(line.Status, success)
	describeFailures(op, line, refer(route.Problem{}))
	return op
}

// describeFailures groups a route's codes by status. Every request can be
// refused by the guard, can find the disk failing and can find a fault of ours.
func describeFailures(op *openapi3.Operation, line route.Line[*Server], body *openapi3.SchemaRef) {
	byStatus := map[int][]string{}
	for _, code := range append(slices.Clone(line.Fails), gate.Elsewhere, sequence.Unreadable, sequence.Internal) {
		statuses := []int{route.StatusOf[code]}
		if code == sequence.Unreadable {
			statuses = append(statuses, http.StatusInsufficientStorage)
		}
		for _, status := range statuses {
			if !slices.Contains(byStatus[status], string(code)) {
				byStatus[status] = append(byStatus[status], string(code))
			}
		}
	}
	for status, codes := range byStatus {
		slices.Sort(codes)
		op.AddResponse(status, openapi3.NewResponse().WithDescription("Code: "+strings.Join(codes, " or ")+".").WithJSONSchemaRef(body))
	}
}

// describedPath names what a router's wildcard stands for.
func describedPath(line route.Line[*Server]) string {
	return strings.Replace(line.Path, "*", "{file}", 1)
}

func pathSchema(name string) *openapi3.Schema {
	switch name {
	case "hash", "file", "roll", "kind", "form":
		return openapi3.NewStringSchema()
	case "size":
		return openapi3.NewIntegerSchema().WithEnum(160, 400, 1600)
	}
	least := 1.0
	if name == "line" {
		least = 0 // the first line of work
	}
	return openapi3.NewIntegerSchema().WithMin(least)
}

// operation is the name of the method that answers.
func operation(line route.Line[*Server]) string {
	name := runtime.FuncForPC(reflect.ValueOf(line.Handler).Pointer()).Name()
	return name[strings.LastIndex(name, ".")+1:]
}

// schemaOf remembers which type has a name: two types of one name in different
// packages would silently become one schema.
var schemaOf = make(map[string]reflect.Type)

// schemaName is the type's name with a capital; a type with nothing in it needs
// none.
func schemaName(t reflect.Type) string {
	if t.Kind() == reflect.Struct && t.NumField() == 0 || t.Name() == "" {
		return ""
	}
	if t == reflect.TypeFor[photoShown]() {
		return "Photo" // the only photo the page ever sees
	}
	name := strings.ToUpper(t.Name()[:1]) + t.Name()[1:]
	if other, taken := schemaOf[name]; taken && other != t {
		panic(fmt.Sprintf("%v and %v would both be called %s in the description", other, t, name))
	}
	schemaOf[name] = t
	return name
}

// words are the closed vocabularies of the domain.
var vocabularies = map[reflect.Type][]any{
	reflect.TypeFor[sequence.Do]():      {sequence.Put, sequence.Add, sequence.Remove, sequence.Move, sequence.Pin, sequence.Across, sequence.Box, sequence.Over},
	reflect.TypeFor[sequence.Whither](): {sequence.Front, sequence.Earlier, sequence.Later, sequence.End},
	reflect.TypeFor[sequence.Side]():    {sequence.Left, sequence.Right, sequence.Opening, sequence.Closing},
	reflect.TypeFor[sequence.Fact]():    facts(),
	reflect.TypeFor[lenderKind]():       {fromTracks, fromPhone},
	reflect.TypeFor[pages.Binding]():    {pages.Unbound, pages.SaddleStitch, pages.PerfectBound, pages.HardCase},
	reflect.TypeFor[proof.Base]():       {proof.ByTarget, proof.ByCard, proof.ByPaper, proof.None},
	reflect.TypeFor[proof.Told]():       {proof.Shifted, proof.Clean, proof.CannotTell},
	reflect.TypeFor[proof.Verdict]():    {proof.Undecided, proof.Again, proof.Go, proof.WithChanges},
	reflect.TypeFor[proof.Course]():     {proof.Better, proof.Worse, proof.AsWas, proof.Unknown},
	reflect.TypeFor[proof.Edition]():    {proof.Edition(""), proof.Before2014, proof.After2014},
	reflect.TypeFor[pages.Unit]():       {pages.Millimetres, pages.Inches},
	reflect.TypeFor[pages.LeafKind]():   {pages.BlankLeaf, pages.TitleLeaf, pages.TextLeaf, pages.Colophon},
	reflect.TypeFor[pages.Mark](): {pages.BleedMark, pages.TrimMark, pages.EdgeMark, pages.BackMark, pages.SpineMark, pages.FrontMark, pages.SafeMark,
		pages.FoldMark, pages.HingeMark, pages.BarcodeMark, pages.FreeMark},
	reflect.TypeFor[pages.Reading]():  {pages.Across, pages.Descending, pages.Ascending},
	reflect.TypeFor[preflight.Harm](): {preflight.Stops, preflight.Ask, preflight.Note},
	reflect.TypeFor[pages.Manner]():   {pages.FullBleed, pages.Framed, pages.Small},
	reflect.TypeFor[pages.WritingKind](): {pages.NameWriting, pages.SubtitleWriting, pages.TextWriting, pages.ColophonWriting,
		pages.CaptionWriting, pages.FolioWriting},
	reflect.TypeFor[pages.MisfitKind]():  misfits(),
	reflect.TypeFor[sequence.Way]():      {sequence.Act, sequence.Undo, sequence.Redo},
	reflect.TypeFor[pairing.Scope]():     {pairing.Table, pairing.Wall},
	reflect.TypeFor[pairing.Ordering]():  orderings(),
	reflect.TypeFor[pairing.Kind]():      evidences(),
	reflect.TypeFor[place.Precision]():   {"unknown", place.PrecisionInstant, place.PrecisionDay, place.PrecisionSpan},
	reflect.TypeFor[place.Source]():      {"", place.FromCamera, place.FromScanner, place.FromMaker, place.FromPhone, place.FromTrack, place.FromNotes, place.FromSidecar},
	reflect.TypeFor[store.InquiryKind](): {store.SpecificationEntry, store.PrinterEntry, store.QuoteEntry, store.TermsEntry, store.PriceEntry},
	reflect.TypeFor[quotes.State]():      {quotes.Amounted, quotes.Included, quotes.Missing, quotes.Unasked},
	reflect.TypeFor[quotes.Basis]():      {quotes.Quoted, quotes.RunningOn, quotes.Between, quotes.Beyond, quotes.Unpriced},
	reflect.TypeFor[quotes.Holding]():    {quotes.Holds, quotes.Expired, quotes.Unstated},
	reflect.TypeFor[edition.Series]():    words(edition.AllSeries()),
	reflect.TypeFor[edition.Place]():     words(edition.Places()),
	reflect.TypeFor[edition.Purpose]():   append(words(edition.OrderPurposes()), edition.ForMaker),
	reflect.TypeFor[edition.Goods]():     {edition.PrintedBook, edition.LoosePictures},
	reflect.TypeFor[orders.State]():      words(orders.States()),
	reflect.TypeFor[orders.Field]():      words(orders.Fields()),
	reflect.TypeFor[orders.DayOrder]():   {orders.OpenOrder, orders.DayFirst, orders.MonthFirst},
	reflect.TypeFor[post.Kind]():         words(post.Kinds()),
	reflect.TypeFor[post.Class]():        words(post.Classes()),
	reflect.TypeFor[ledger.Kind]():       words(ledger.Kinds()),
	reflect.TypeFor[post.Form]():         {post.NoForm, post.CN22, post.CN23},
	reflect.TypeFor[post.Category]():     {post.SaleOfGoods, post.Gift, post.Documents, post.OtherGoods},
	reflect.TypeFor[sequence.Code](): {sequence.Invalid, sequence.NotFound, sequence.Stale, sequence.Conflict, sequence.Damaged,
		sequence.Unsupported, sequence.TooLarge, sequence.Unreadable, sequence.Cancelled, sequence.Internal, route.NotAllowed, gate.Elsewhere, route.WrongMedia},
}

func words[T any](list []T) (all []any) {
	for _, one := range list {
		all = append(all, one)
	}
	return all
}

func evidences() (all []any) {
	for _, kind := range pairing.Vocabulary() {
		all = append(all, kind)
	}
	return all
}

func orderings() (all []any) {
	for _, ordering := range pairing.Orderings() {
		all = append(all, ordering)
	}
	return all
}

func misfits() (all []any) {
	for _, kind := range pages.MisfitKinds() {
		all = append(all, kind)
	}
	return all
}

func facts() (all []any) {
	for _, fact := range sequence.Facts {
		all = append(all, fact)
	}
	return all
}

// whenFields is how place.When writes itself in JSON.
type whenFields struct {
	Precision place.Precision `json:"precision"`
	From      string          `json:"from,omitempty"`
	To        string          `json:"to,omitempty"`
	Offset    int             `json:"offset,omitempty"`
	Source    place.Source    `json:"source"`
}

// customise says of a schema what reflection alone does not.
func customise(name string, t reflect.Type, _ reflect.StructTag, schema *openapi3.Schema) error {
	schema.Nullable = false // we never send null: what is not there is left out
	if values, ok := vocabularies[t]; ok {
		schema.Enum = nil
		for _, v := range values {
			schema.Enum = append(schema.Enum, fmt.Sprint(v))
		}
		return nil
	}
	switch {
	case t == reflect.TypeFor[time.Time]():
		return nil
	case t == reflect.TypeFor[place.When]():
		ref, err := openapi3gen.NewSchemaRefForValue(whenFields{}, nil, openapi3gen.SchemaCustomizer(customise))
		if err != nil {
			return err
		}
		schema.Type, schema.Properties, schema.Required = ref.Value.Type, ref.Value.Properties, ref.Value.Required
		return nil
	case t.Kind() == reflect.Array:
		n := uint64(t.Len())
		schema.Type = &openapi3.Types{"array"}
		item := openapi3.NewIntegerSchema()
		if t.Elem().Kind() == reflect.Float64 {
			item = openapi3.NewFloat64Schema()
		}
		schema.Items = openapi3.NewSchemaRef("", item)
		schema.MinItems, schema.MaxItems = n, &n
	case t.Kind() == reflect.Struct:
		no := false
		schema.Type = &openapi3.Types{"object"}
		schema.AdditionalProperties = openapi3.AdditionalProperties{Has: &no}
		schema.Required = required(t)
	case name == "state" && t.Kind() == reflect.String:
		schema.Enum = []any{store.Running, store.Done, store.Cancelled, store.Failed, store.BrokenOff}
	}
	return nil
}

// required lists the properties that are always sent: those without omitempty.
func required(t reflect.Type) []string {
	var names []string
	for _, field := range reflect.VisibleFields(t) {
		name, options, tagged := strings.Cut(field.Tag.Get("json"), ",")
		if field.IsExported() && name != "" && name != "-" && (!tagged || !strings.Contains(options, "omit")) {
			names = append(names, name)
		}
	}
	slices.Sort(names)
	return slices.Compact(names)
}
