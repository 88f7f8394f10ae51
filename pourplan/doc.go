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
//	Draw      a moldbox.Mold becomes drawings of its halves
//
// Package sheet sets a Plan and its drawings on paper, page in an HTML file.
//
// Lengths are mm, volumes ml or mm³, masses g, temperatures °C, times s,
// densities g/cm³, unless a name says otherwise. Figures that rest on typical
// values or on rules of thumb are marked as such in the Plan: data sheets and
// a scale take precedence.
package pourplan
