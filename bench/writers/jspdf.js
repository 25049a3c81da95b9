// node jspdf.js PAGES.json OUT.pdf: pages as jsPDF writes them.
const fs = require("fs");
const { jsPDF } = require("jspdf");
const pages = JSON.parse(fs.readFileSync(process.argv[2]));
let doc = null;
for (const page of pages) {
  const size = [page.wide, page.tall], way = page.wide > page.tall ? "landscape" : "portrait";
  if (doc) doc.addPage(size, way);
  else doc = new jsPDF({ unit: "pt", format: size, orientation: way });
  const y = (v) => page.tall - v;
  for (const line of page.lines) {
    doc.setLineWidth(line.width).setDrawColor(...line.rgb.map((c) => Math.round(255 * c)));
    doc.setLineDashPattern(line.dash, 0);
    const steps = [{ op: "m", c: [line.start[0], y(line.start[1])] }];
    for (const s of line.steps)
      steps.push({ op: s.length === 2 ? "l" : "c", c: s.map((v, k) => (k % 2 ? y(v) : v)) });
    if (line.closed) steps.push({ op: "h", c: [] });
    doc.path(steps).stroke();
  }
  doc.setFont("helvetica");
  for (const w of page.words) doc.setFontSize(w.size).text(w.words, w.x, y(w.y));
}
fs.writeFileSync(process.argv[3], Buffer.from(doc.output("arraybuffer")));
