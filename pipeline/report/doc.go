// Package report writes the pages of a run: report.html of a screening, confirm.html of a
// confirmation, and the page of a data check.
//
// Input. A screening feeds a Stock with the rows that it writes to files, in the order of rank. An
// Input holds what else the page says. A confirmation gives its rows and a Subject for each
// building that is shown in pictures.
//
// Result. One file that opens without a network and prints to A4. It first answers the question of
// the run: which buildings first, with which measure, at what cost, and how sure. The ranked table,
// a map, charts, the quality of the data and each building follow. A Portrait of a Subject adds
// panels and a film.
//
// Rules:
//   - Text of the owner reaches a page as data only. The template escapes it, and the script
//     sets it as text, never as markup.
//   - A policy in the page allows no script but its own and no request to a network.
//   - A page holds at most MaxBuildings buildings; the files hold all.
//   - Equal inputs give equal bytes.
//
// Errors are those of the writer. A template or a chart that fails is a mistake of the program.
package report
