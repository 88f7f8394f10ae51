// Package sheet sets a plan on paper, as PDF: the pour sheet for the bench, the
// desk sheet with what to buy and what it costs, and the page of an account.
// The same plan gives the same bytes. Lengths are mm, y runs downwards.
//
// In reading order:
//
//	sheet.go             WritePour: its pages, and what all pages share
//	pour.go              page 1, the scale: A and B of each half
//	times.go             its strip of times
//	drawings.go          page 2, the drawings; figure.go one of them with its
//	                     dimensions; hatch.go; findings.go what the checks say
//	patterns.go          wires to cut, at true size; wires.go which, on their own page
//	casting.go           page 3, the melting pot; freezing.go: what of a shot freezes last
//	desk.go, desk_print.go              WriteDesk: buying, cost, filling, other metals
//	account.go           WriteAccount: figures of an account; account_plot.go its plots
//	labels.go            WriteLabels: labels of molds, with a code to scan
//	steps.go             steps to tick off, cautions beside them, fitted to a page
//	page.go              a page as plain data: texts and shapes; styles and papers
//	fonts.go             how wide a text is, and where its lines break
//	pdf.go               pages to PDF
package sheet
