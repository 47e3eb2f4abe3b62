package cli

import (
	"reflect"
	"slices"

	"github.com/google/jsonschema-go/jsonschema"

	"fay/joints/compare"
	jobs "fay/joints/job"
	"fay/joints/result"
)

// jobWords are the closed lists of words in the results of a job.
var jobWords = map[reflect.Type][]any{reflect.TypeFor[jobs.Form](): {jobs.Rod, jobs.Wire}}

// jobResultSchema describes what `fay job --format json` prints.
func jobResultSchema() *jsonschema.Schema {
	s := result.SchemaOf[jobResult](jobWords)
	s.ID, s.Title = "urn:fay:job-result:1", "Result of a job"
	s.Description = "All joints of a job with what to buy. Names carry their unit; what was not computed has no key."
	result.Form(s, jobForm)
	s.Properties["cautions"].MinItems = new(1)
	return s
}

// jobLineSchema describes a line of `fay job --format jsonl`.
func jobLineSchema() *jsonschema.Schema {
	s := result.SchemaOf[jobLine](jobWords)
	s.ID, s.Title = "urn:fay:job-line:1", "Line of a job"
	s.Description = "One joint of a job. Where it has faults it has nothing that is computed."
	return s
}

// compareSchema describes what `fay compare --format json` prints.
func compareSchema() *jsonschema.Schema {
	metrics := compare.Metrics()
	list := make([]any, len(metrics))
	for i, m := range metrics {
		list[i] = m
	}
	s := result.SchemaOf[compareResult](map[reflect.Type][]any{reflect.TypeFor[compare.Metric](): list})
	s.ID, s.Title = "urn:fay:compare-result:1", "Result of a comparison"
	s.Description = "Alternatives of a joint, ranked. Names carry their unit; what is not known has no key."
	result.Form(s, compareForm)
	s.Properties["cautions"].MinItems = new(1)
	// A search for break-evens has no table.
	table := []string{"by", "reference", "rows", "rules"}
	s.Required = slices.DeleteFunc(s.Required, func(name string) bool { return slices.Contains(table, name) })
	s.AnyOf = []*jsonschema.Schema{{Required: table}, {Required: []string{"break_even"}}}
	// The same names as the values, but fractions of those of the reference.
	relative := s.Properties["rows"].Items.Properties["relative"]
	relative.Description = "how far above the reference, as a fraction: 0.2 is a fifth more"
	for _, p := range relative.Properties {
		p.Description, p.Minimum = "", nil
	}
	return s
}
