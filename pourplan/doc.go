// Package pourplan turns a job file and what was measured of a mold into a
// plan: rubber to weigh, metal to melt, temperatures, times, weights to
// expect, and the cautions that go with each step.
//
// The way through it:
//
//	ReadJob   a job file becomes a Job, or a list of errors with their places
//	Job.Spec  a Job becomes a moldbox.Spec, the shape of the mold
//	NewPlan   a Job and a moldbox.Measured become a Plan, pure arithmetic
//	Plan.JSON the Plan as a document whose bytes depend on nothing else
//
//	RenderDrawings a moldbox.Mold becomes drawings of its halves
//
// Package sheet sets a Plan and its drawings on paper, page in an HTML file.
//
// Lengths are mm, volumes ml or mm³, masses g, temperatures °C, times s,
// densities g/cm³, unless a name says otherwise. Figures that rest on typical
// values or on rules of thumb are marked as such in the Plan: data sheets and
// a scale take precedence.
//
// The files, in reading order:
//
//   - job.go, job_head.go, job_box.go, job_material.go, job_mold.go, job_bench.go, sizes.go:
//     the job's tables, a row for each key; job_key.go: what a row says;
//     quantities.go, coordinates.go, direction.go, ranges.go, turn.go, moment.go, units.go: what
//     values are.
//   - job_read.go: text to a Job, by job_assign.go, job_library.go and job_check.go; job_error.go,
//     job_keyerror.go, job_places.go, job_edit.go, job_edit_table.go, job_source.go, job_unknown.go,
//     job_suggest.go: what is wrong with it, and where.
//   - job_keys.go: the table of keys to read.
//   - file_names.go: what systems differ in about names of files and folders.
//   - lying.go: how heads lie in their files, and what can be pointed at.
//   - proposed.go: a new job by what was read off a head's mesh.
//   - spec.go, hook.go, hook_*.go, keeper.go: a Job to a Spec; head_size.go: a unit that is likely
//     wrong; job_explain.go, remedies.go: errors and findings in the job's keys.
//   - metal.go, freezing_path.go, substance.go, solidus.go, rubber.go, job_coat.go, finish.go:
//     materials; metal_data.go, diagram_data.go, rubber_data.go, plastic_data.go:
//     presets.
//   - plan.go: the document; plan_new.go: NewPlan; plan_box.go: NewBoxPlan; plan_*.go: a part each.
//     weight*.go, fed.go, heat.go, cast_cases.go, rest.go, rhythm.go, opening.go, times.go, batches.go,
//     mix.go and buying.go: the formulas.
//   - cast_trials.go: changes to try by another shot; heat_findings.go: what a shot says;
//     figure_findings.go, fill_findings.go, rubber_findings.go, coat_findings.go, scale_findings.go,
//     socket_findings.go: findings on figures; finding_*.go: findings as sheets
//     show them.
//   - steps_pour.go, steps_cast.go: the steps of the work, to tick off.
//   - drawing*.go: drawings; colours.go: of the halves, wherever they are shown.
//   - sizes_list*.go: a run of sizes as one list; compare.go: two plans.
//   - shelf*.go: what a person has, and what is left of it; growing_csv.go, growing_fields.go: files that only grow; account.go: castings; account_*.go: its file, its figures.
//   - print_time.go: how long a print takes; bed.go: how frames lie on the bed.
//   - format.go, visible.go: numbers and names as text.
package pourplan
