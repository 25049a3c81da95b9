// node pdfkit.js PAGES.json OUT.pdf: pages as pdfkit writes them.
const fs = require("fs");
const PDFDocument = require("pdfkit");
const pages = JSON.parse(fs.readFileSync(process.argv[2]));
const doc = new PDFDocument({ autoFirstPage: false });
doc.pipe(fs.createWriteStream(process.argv[3]));
for (const page of pages) {
  doc.addPage({ size: [page.wide, page.tall], margin: 0 });
  const y = (v) => page.tall - v;
  for (const line of page.lines) {
    doc.save().lineWidth(line.width).strokeColor(line.rgb.map((c) => Math.round(255 * c)));
    if (line.dash.length) doc.dash(line.dash[0], { space: line.dash[1] });
    doc.moveTo(line.start[0], y(line.start[1]));
    for (const s of line.steps) {
      const n = s.map((v, k) => (k % 2 ? y(v) : v));
      if (n.length === 2) doc.lineTo(...n);
      else doc.bezierCurveTo(...n);
    }
    if (line.closed) doc.closePath();
    doc.stroke().restore();
  }
  for (const w of page.words)
    doc.font("Helvetica").fontSize(w.size).text(w.words, w.x, y(w.y) - w.size * 0.8, { lineBreak: false });
}
doc.end();
