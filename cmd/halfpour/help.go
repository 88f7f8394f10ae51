package main

// The first screen. Two spaces before and a tab after each name: the printer
// lines the columns up.
const appHelp = `halfpour: {{.Usage}}

Usage:
  halfpour COMMAND [OPTIONS] [ARGUMENTS]

Commands:
{{range .VisibleCommands}}  {{.Name}}{{"\t"}}{{.Usage}}
{{end}}
Options:
{{range .VisibleFlags}}  {{.}}
{{end}}
Example:
  halfpour new first-mold              a starter job with a demo head
  halfpour check first-mold/job.toml   weights, rubber and warnings at once
  halfpour build first-mold/job.toml   frames, pour sheet, plan, pictures

Exit codes:
  0 fine · 1 failed · 3 wrong use · 4 job file · 5 head mesh
  6 the checks say stop · 130 interrupted
Errors go to stderr. NO_COLOR turns colour off.
`

const commandHelp = `halfpour {{.Name}}: {{.Usage}}

Usage:
  halfpour {{.Name}}{{if .VisibleFlags}} [OPTIONS]{{end}}{{if .ArgsUsage}} {{.ArgsUsage}}{{end}}
{{if .Description}}
{{.Description}}
{{end}}{{if .VisibleFlags}}
Options:
{{range .VisibleFlags}}  {{.}}
{{end}}{{end}}{{if .UsageText}}
Examples:
{{.UsageText}}
{{end}}`
