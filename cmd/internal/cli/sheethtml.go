package cli

import "html/template"

// sheetHTML is the form as one page, to print on A4 or Letter and to read on a
// phone. It asks for nothing from outside. Lines and words say what the colours
// do, which are those of package plots.
var sheetHTML = template.Must(template.New("sheet").Funcs(template.FuncMap{"blanks": func() []string { return sheetBlanks }}).Parse(`<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>Measuring sheet: {{.Shop}}</title>
<style>
@page { margin: 10mm; }
* { box-sizing: border-box; }
body { font: 14px/1.35 "Liberation Sans", Arial, Helvetica, sans-serif; color: #141414; background: #fff; max-width: 1100px; margin: 0 auto; padding: 16px; }
h1 { font-size: 1.5em; margin: 0 0 .4em; border-bottom: 3px solid #123666; }
h1 small { font-weight: normal; font-size: .7em; color: #5c6268; }
h2 { font-size: 1.1em; margin: .8em 0 .3em; color: #123666; }
h2 small { font-weight: normal; color: #5c6268; }
h3 { font-size: 1em; margin: 0; display: flex; justify-content: space-between; gap: 1em; }
h3 small { font-weight: normal; white-space: nowrap; }
p { margin: .3em 0; }
table { border-collapse: collapse; width: 100%; }
th, td { text-align: left; vertical-align: top; padding: .25em .5em .25em 0; border-bottom: 1px solid #dee1e4; overflow-wrap: anywhere; }
th { font-weight: normal; color: #5c6268; border-bottom-color: #7d848a; }
.holes td:nth-child(3), .holes td:last-child { white-space: nowrap; }
.blanks { display: flex; flex-wrap: wrap; gap: .5em .8em; margin: .5em 0; }
.blanks span { flex: 1 1 7.5em; border-bottom: 1px solid #141414; padding-top: 1.6em; margin-top: -1em; font-size: .85em; color: #5c6268; }
.mind { border-left: 4px solid #b84a16; padding-left: .7em; }
.num { width: 1.9em; font-weight: bold; }
.states { columns: 330px 2; column-gap: 2em; }
.state { break-inside: avoid; border-top: 2px solid #123666; padding: .2em 0 .8em; }
.state p { color: #5c6268; margin: .1em 0; }
.state p b { color: #b84a16; }
.state td { padding-top: .45em; border-bottom: 0; }
.state tbody { border-top: 1px solid #dee1e4; break-inside: avoid; }
.place { width: 34%; }
.mark { font-size: .88em; color: #b84a16; }
.state td.mark { padding-top: 0; }
td.read, .state td.read { width: 21%; border: 1px solid #7d848a; }
.notes p { font-size: .92em; color: #5c6268; }
@media (max-width: 600px) {
  .holes thead { display: none; }
  .holes tr { display: block; padding: .4em 0 .4em 1.9em; position: relative; border-bottom: 1px solid #dee1e4; }
  .holes td { display: inline; border: 0; padding: 0 .5em 0 0; }
  .holes td.num { position: absolute; left: 0; }
  .holes td:nth-child(2) { font-weight: bold; }
  .holes td[data-of]:not(:empty) { display: block; white-space: normal; }
  .holes td[data-of]:not(:empty)::before { content: attr(data-of) " "; color: #5c6268; }
  .place { width: 30%; }
}
@media print {
  body { font-size: 8pt; line-height: 3.2mm; max-width: none; padding: 0; }
  h1 { line-height: 5.5mm; margin-bottom: 1mm; }
  h2 { line-height: 4mm; margin: 1.5mm 0 .5mm; }
  p { margin: .6mm 0; }
  .blanks { margin: 1mm 0; }
  .holes th, .holes td { padding: .5mm 2mm .5mm 0; }
  .states { columns: 2; column-gap: 6mm; }
  .state { border-top-width: .4mm; padding: .4mm 0 1.6mm; }
  .state td { padding-top: 1.4mm; padding-bottom: .6mm; }
  .state td.mark { padding-top: 0; }
  tr, .mind, .notes { break-inside: avoid; }
}
</style>
</head>
<body>
<h1>Measuring sheet <small>{{.Shop}}</small></h1>
<div class="blanks">{{range blanks}}<span>{{.}}</span>{{end}}</div>
<p class="mind"><b>Mind.</b>{{range .Cautions}} {{.}}{{end}}</p>
<h2>Where to drill</h2>
<table class="holes">
<thead><tr><th class="num"></th><th>place</th><th>duct</th><th>drill</th><th>straight, diameters</th><th>traverse depths, {{.Depth}}</th></tr></thead>
<tbody>
{{$depth := .Depth}}{{range .Holes}}<tr><td class="num">{{.Number}}</td><td>{{.Place}}</td><td>{{.Diameter}}</td><td>{{.Drill}}</td><td data-of="straight, diameters:">{{.Straight}}{{with .Mark}} <span class="mark">{{.}}</span>{{end}}</td><td data-of="traverse depths, {{$depth}}:">{{.Depths}}</td></tr>
{{end}}</tbody>
</table>
{{range .Short}}<p>{{.}}</p>
{{end}}<h2>What to read <small>with a meter of {{.Meter}}</small></h2>
<div class="states">
{{range .Blocks}}<section class="state">
<h3>{{.Title}} <small>motor ________ A</small></h3>
<p>{{.Set}}{{with .Mind}} <b>{{.}}</b>{{end}}</p>
<table>
{{range .Rows}}<tbody><tr><td class="num">{{.Hole}}</td><td class="place">{{.Name}}</td><td>{{.Expected}}</td><td class="read"{{if .Mark}} rowspan="2"{{end}}></td></tr>
{{with .Mark}}<tr><td></td><td class="mark" colspan="2">{{.}}</td></tr>
{{end}}</tbody>
{{end}}</table>
</section>
{{end}}</div>
<div class="notes">
{{range .Notes}}<p>{{.}}</p>
{{end}}</div>
</body>
</html>
`))
