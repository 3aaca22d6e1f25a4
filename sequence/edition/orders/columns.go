package orders

import (
	"fmt"
	"slices"
	"strings"

	"pairwall/sequence"
)

// Field is what a column of a table of orders means.
type Field string

// The fields. A table needs a number and copies, or a number and one row for
// each copy; whatever else it says is taken along.
const (
	NumberField   Field = "number"
	DayField      Field = "day"
	NameField     Field = "name"
	FirstField    Field = "first name"
	LastField     Field = "last name"
	CompanyField  Field = "company"
	Line1Field    Field = "address 1"
	Line2Field    Field = "address 2"
	Line3Field    Field = "address 3"
	PostcodeField Field = "postcode"
	TownField     Field = "town"
	RegionField   Field = "region"
	CountryField  Field = "country"
	EmailField    Field = "email"
	PhoneField    Field = "phone"
	CopiesField   Field = "copies"
	ItemField     Field = "item" // what was bought, to tell this title from other goods
	PriceField    Field = "price"
	PostageField  Field = "postage"
	CurrencyField Field = "currency"
	WishField     Field = "wish"
	NoteField     Field = "note"
)

// Fields lists them in the order in which they are matched and exported.
func Fields() []Field {
	return []Field{NumberField, DayField, NameField, FirstField, LastField, CompanyField, Line1Field, Line2Field, Line3Field, PostcodeField,
		TownField, RegionField, CountryField, EmailField, PhoneField, CopiesField, ItemField, PriceField, PostageField, CurrencyField, WishField, NoteField}
}

// Columns says which column each field stands in, counted from 0.
type Columns map[Field]int

// Check refuses a match that points nowhere, or twice at one column.
//
// Error: Invalid.
func (c Columns) Check(width int) error {
	taken := make(map[int]Field)
	for _, field := range Fields() {
		at, said := c[field]
		if !said {
			continue
		}
		if at < 0 || at >= width {
			return &sequence.Error{Code: sequence.Invalid, Message: fmt.Sprintf("The table has no column %d for %s.", at+1, field), Hint: fmt.Sprintf("It has %d columns.", width)}
		}
		if other, twice := taken[at]; twice {
			return &sequence.Error{Code: sequence.Invalid, Message: fmt.Sprintf("Column %d cannot be both %s and %s.", at+1, other, field), Hint: "Match each column once."}
		}
		taken[at] = field
	}
	for field := range c {
		if !slices.Contains(Fields(), field) {
			return &sequence.Error{Code: sequence.Invalid, Message: fmt.Sprintf("There is no field called %q.", field), Hint: fmt.Sprintf("There is %q.", Fields())}
		}
	}
	if _, said := c[NumberField]; !said {
		return &sequence.Error{Code: sequence.Invalid, Message: "No column is matched with the order number.", Hint: "By it an order that comes twice is known again."}
	}
	return nil
}

// Signature tells tables of one shop from those of another: the folded words of
// their first rows.
func Signature(header []string) string {
	words := make([]string, len(header))
	for i, word := range header {
		words[i] = folded(word)
	}
	return strings.Join(words, "|")
}

// Readings remembers how tables of orders are read, by their signatures.
type Readings map[string]Reading

// Read reads a table as one like it was read before, and otherwise as it looks;
// matched tells whether there was one.
//
// Errors: as Read.
func (r Readings) Read(data []byte) (t Table, matched bool, err error) {
	t, err = Read(data, Reading{})
	if err != nil {
		return t, false, err
	}
	how, matched := r[Signature(t.Header)]
	if matched {
		t, err = Read(data, how)
	}
	return t, matched, err
}

// wordings are what shops call each field, folded, in several languages; the
// likelier first. Words of the trade and of everyday language only.
var wordings = []struct {
	field Field
	words []string
}{
	{NumberField, []string{"order number", "order no", "order id", "order #", "order", "number", "bestellnummer", "auftragsnummer", "numero ordine", "ordine", "numero de commande", "commande", "numero de pedido", "pedido", "bestelnummer", "ordrenummer", "numer zamowienia", "注文番号"}},
	{FirstField, []string{"first name", "shipping first name", "delivery first name", "given name", "vorname", "nome di battesimo", "prenom", "voornaam", "imie"}},
	{LastField, []string{"last name", "shipping last name", "delivery last name", "surname", "family name", "nachname", "cognome", "nom de famille", "apellidos", "achternaam", "nazwisko"}},
	{NameField, []string{"shipping name", "delivery name", "ship name", "recipient", "recipient name", "full name", "name", "customer name", "customer", "buyer", "empfanger", "kunde", "nome", "destinatario", "nom", "nom complet", "nombre", "naam", "navn", "nimi", "imie i nazwisko", "氏名", "お名前", "名前"}},
	{CompanyField, []string{"shipping company", "delivery company", "company", "organisation", "organization", "firma", "azienda", "ditta", "societe", "entreprise", "empresa", "bedrijf"}},
	{Line1Field, []string{"shipping address 1", "shipping address line 1", "shipping street", "delivery address 1", "ship address1", "address 1", "address line 1", "address1", "street", "street address", "shipping address", "delivery address", "address", "strasse", "straße", "adresse", "anschrift", "via", "indirizzo", "rue", "adresse 1", "direccion", "calle", "straat", "adres", "住所"}},
	{Line2Field, []string{"shipping address 2", "shipping address line 2", "delivery address 2", "ship address2", "address 2", "address line 2", "address2", "adresszusatz", "adresse 2", "complement d'adresse", "complement d adresse", "indirizzo 2", "direccion 2", "住所2"}},
	{Line3Field, []string{"shipping address 3", "address 3", "address line 3", "address3", "adresse 3"}},
	{PostcodeField, []string{"shipping zip", "shipping postcode", "shipping postal code", "delivery postcode", "ship zipcode", "postcode", "postal code", "zip", "zip code", "zipcode", "plz", "postleitzahl", "cap", "codice postale", "code postal", "codigo postal", "kod pocztowy", "postnummer", "郵便番号"}},
	{TownField, []string{"shipping city", "shipping town", "delivery city", "ship city", "city", "town", "ort", "stadt", "citta", "comune", "ville", "ciudad", "plaats", "by", "miasto", "市区町村"}},
	{RegionField, []string{"shipping province", "shipping state", "shipping region", "delivery state", "ship state", "state", "province", "region", "county", "bundesland", "provincia", "regione", "etat", "provincie", "都道府県"}},
	{CountryField, []string{"shipping country", "shipping country code", "delivery country", "ship country", "country", "country code", "land", "paese", "nazione", "pays", "pais", "kraj", "国"}},
	{EmailField, []string{"email", "e mail", "email address", "e mail address", "customer email", "buyer email", "mail", "courriel", "correo", "correo electronico", "メール", "メールアドレス"}},
	{PhoneField, []string{"shipping phone", "phone", "phone number", "telephone", "telefon", "telefono", "tel", "mobile", "電話番号"}},
	{CopiesField, []string{"quantity", "copies", "qty", "item quantity", "line item quantity", "number of copies", "menge", "anzahl", "stuckzahl", "quantita", "copie", "quantite", "exemplaires", "cantidad", "aantal", "antal", "antall", "ilosc", "数量"}},
	{ItemField, []string{"item", "item name", "line item name", "product", "product name", "product title", "title", "artikel", "produkt", "articolo", "prodotto", "article", "produit", "producto", "商品名"}},
	{PriceField, []string{"item total", "line total", "price paid", "subtotal", "item price", "price", "line item price", "amount", "total", "preis", "betrag", "summe", "prezzo", "importo", "prix", "montant", "precio", "importe", "prijs", "bedrag", "cena", "価格", "金額"}},
	{PostageField, []string{"shipping", "postage", "shipping cost", "shipping price", "shipping charge", "order shipping", "versand", "versandkosten", "porto", "spese di spedizione", "spedizione", "frais de port", "port", "gastos de envio", "verzendkosten", "送料"}},
	{CurrencyField, []string{"currency", "currency code", "wahrung", "valuta", "devise", "monnaie", "moneda", "waluta", "通貨"}},
	{DayField, []string{"date", "order date", "created at", "date created", "paid at", "sale date", "datum", "bestelldatum", "data", "date de commande", "fecha", "dato", "日付", "注文日"}},
	{WishField, []string{"wish", "dedication", "customer note", "buyer note", "message", "message from buyer", "gift message", "comment", "wunsch", "widmung", "nachricht", "dedica", "messaggio", "dedicace", "dedicatoria", "mensaje", "備考"}},
	{NoteField, []string{"note", "notes", "private notes", "internal note", "notiz", "nota", "remarque"}},
}

// Guess matches the columns of a first row as far as their words say what they
// mean. Each column is matched once, and earlier wordings of a field count
// before later ones.
func Guess(header []string) Columns {
	words := make([]string, len(header))
	for i, word := range header {
		words[i] = strings.Join(strings.FieldsFunc(folded(word), func(r rune) bool { return r == ' ' || r == '_' || r == ':' || r == '(' || r == ')' }), " ")
	}
	columns := Columns{}
	taken := make([]bool, len(header))
	for _, w := range wordings {
		for _, word := range w.words {
			at := slices.Index(words, folded(word))
			if at >= 0 && !taken[at] {
				columns[w.field], taken[at] = at, true
				break
			}
		}
	}
	return columns
}
