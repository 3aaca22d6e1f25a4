package main

import (
	"encoding/json"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// schema is what the description of the API uses of JSON Schema.
type schema struct {
	Ref        string             `json:"$ref"`
	Type       string             `json:"type"`
	Enum       []string           `json:"enum"`
	Items      *schema            `json:"items"`
	MinItems   int                `json:"minItems"`
	MaxItems   *int               `json:"maxItems"`
	Properties map[string]*schema `json:"properties"`
	Required   []string           `json:"required"`
	Additional json.RawMessage    `json:"additionalProperties"`
	Note       string             `json:"description"`
}

// writeTypes turns the schemas of server/openapi.json into TypeScript, so that
// the page is checked against what the program really says.
func writeTypes(web string) error {
	text, err := os.ReadFile(filepath.Join(web, "..", "server", "openapi.json"))
	if err != nil {
		return err
	}
	var description struct {
		Components struct {
			Schemas map[string]*schema `json:"schemas"`
		} `json:"components"`
	}
	if err := json.Unmarshal(text, &description); err != nil {
		return fmt.Errorf("server/openapi.json: %w", err)
	}
	var out strings.Builder
	out.WriteString("// Made from server/openapi.json by `go generate ./web`. Do not edit.\n")
	schemas := description.Components.Schemas
	for _, name := range slices.Sorted(maps.Keys(schemas)) {
		s := schemas[name]
		kind, err := s.typescript("")
		if err != nil {
			return fmt.Errorf("server/openapi.json: %s: %w", name, err)
		}
		out.WriteString("\n" + s.comment(""))
		if len(s.Properties) > 0 {
			out.WriteString("export interface " + name + " " + kind + "\n")
		} else {
			out.WriteString("export type " + name + " = " + kind + ";\n")
		}
	}
	return os.WriteFile(filepath.Join(web, "src", "net", "api.ts"), []byte(out.String()), 0o644)
}

func (s *schema) typescript(indent string) (string, error) {
	switch {
	case s.Ref != "":
		return s.Ref[strings.LastIndex(s.Ref, "/")+1:], nil
	case len(s.Enum) > 0:
		quoted := make([]string, len(s.Enum))
		for i, e := range s.Enum {
			quoted[i] = fmt.Sprintf("%q", e)
		}
		return strings.Join(quoted, " | "), nil
	}
	switch s.Type {
	case "string", "boolean":
		return s.Type, nil
	case "integer", "number":
		return "number", nil
	case "array":
		return s.array(indent)
	case "object":
		return s.object(indent)
	}
	return "", fmt.Errorf("no TypeScript for type %q", s.Type)
}

func (s *schema) array(indent string) (string, error) {
	item, err := s.Items.typescript(indent)
	if err != nil {
		return "", err
	}
	if s.MaxItems != nil && *s.MaxItems == s.MinItems {
		return "[" + strings.Join(slices.Repeat([]string{item}, s.MinItems), ", ") + "]", nil
	}
	if strings.Contains(item, " ") {
		item = "(" + item + ")"
	}
	return item + "[]", nil
}

func (s *schema) object(indent string) (string, error) {
	if len(s.Properties) == 0 {
		var values schema
		if json.Unmarshal(s.Additional, &values) != nil { // absent or false: nothing in it
			return "Record<string, never>", nil
		}
		kind, err := values.typescript(indent)
		return "Record<string, " + kind + ">", err
	}
	var out strings.Builder
	out.WriteString("{\n")
	for _, name := range slices.Sorted(maps.Keys(s.Properties)) {
		property := s.Properties[name]
		kind, err := property.typescript(indent + "  ")
		if err != nil {
			return "", fmt.Errorf("%s: %w", name, err)
		}
		optional := "?"
		if slices.Contains(s.Required, name) {
			optional = ""
		}
		out.WriteString(property.comment(indent + "  "))
		fmt.Fprintf(&out, "%s  %s%s: %s;\n", indent, name, optional, kind)
	}
	out.WriteString(indent + "}")
	return out.String(), nil
}

func (s *schema) comment(indent string) string {
	if s.Note == "" {
		return ""
	}
	return indent + "/** " + strings.Join(strings.Fields(strings.ReplaceAll(s.Note, "*/", "")), " ") + " */\n"
}
