// node pdf_lib.js PAGES.json OUT.pdf: pages as pdf-lib writes them.
const fs = require("fs");
const lib = require("pdf-lib");
const pages = JSON.parse(fs.readFileSync(process.argv[2]));
(async () => {
  const doc = await lib.PDFDocument.create();
  const font = await doc.embedFont(lib.StandardFonts.Helvetica);
  for (const page of pages) {
    const out = doc.addPage([page.wide, page.tall]);
    for (const line of page.lines) {
      const d = [`M ${line.start[0]} ${-line.start[1]}`];
      for (const s of line.steps)
        d.push((s.length === 2 ? "L " : "C ") + s.map((v, k) => (k % 2 ? -v : v)).join(" "));
      if (line.closed) d.push("Z");
      out.drawSvgPath(d.join(" "), {
        x: 0, y: 0, borderWidth: line.width, borderColor: lib.rgb(...line.rgb),
        borderDashArray: line.dash.length ? line.dash : undefined,
      });
    }
    for (const w of page.words) out.drawText(w.words, { x: w.x, y: w.y, size: w.size, font });
  }
  fs.writeFileSync(process.argv[3], await doc.save());
})();
