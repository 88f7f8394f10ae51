// Command halfpour turns a bait head and a hook into a two-half rubber mold:
// frames to print, and a sheet that says what to weigh, mix, pour and melt.
//
// The files, in reading order:
//
//   - main.go: signals, a command line, an exit code; main_js.go, pause_js.go: the
//     same program as the engine of a page in the browser; app.go: the commands;
//     order.go, usage.go: options; version.go: what it was built from; memory.go: how much
//     it may take.
//   - build.go, check.go, picture_lying.go, new.go, new_head.go, piece.go, mix.go, log.go, compare.go, explain.go,
//     completion.go, man.go, schema.go, help.go: a command each.
//   - job_file.go, heads.go, inputs.go, built.go, weighed.go: what commands read.
//   - faults.go, run_faults.go: what goes wrong, and its exit code. terminal.go,
//     text_rows.go, summary.go, findings.go, findings_table.go: what is printed.
//     progress.go, progress_shares.go, remaining.go: how far it is; forecast.go: how
//     long it will take.
//   - sizes.go, sizes_report.go: a run of sizes. files.go: what build writes;
//     page.go: the page; box.go: check and build for frames that are drawn already.
//   - watch*.go: build --watch. desk*.go: the desk, which watches too; desk_share.go: a
//     build by two engines, which package crew joins; package system: what operating
//     systems differ in.
//   - shelf.go, shelf_*.go: what the person has, and what is left of it.
//   - account_file.go, account_owner.go: the account's file; log_show.go,
//     log_plot.go: its figures; mix_cup.go: a cup.
//   - explain_*.go: texts. completion: a script for each shell. command_tree.go,
//     help_json.go: commands as data.
package main
