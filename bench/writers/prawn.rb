# ruby prawn.rb PAGES.json OUT.pdf: pages as Prawn writes them.
require 'json'
require 'prawn'
pages = JSON.parse(File.read(ARGV[0]))
doc = Prawn::Document.new(skip_page_creation: true, margin: 0)
pages.each do |page|
  doc.start_new_page(size: [page['wide'], page['tall']], margin: 0)
  page['lines'].each do |line|
    doc.line_width = line['width']
    doc.stroke_color(line['rgb'].map { |c| format('%02x', (255 * c).round) }.join)
    line['dash'].empty? ? doc.undash : doc.dash(line['dash'])
    doc.move_to(*line['start'])
    line['steps'].each do |s|
      s.size == 2 ? doc.line_to(*s) : doc.curve_to([s[4], s[5]], bounds: [[s[0], s[1]], [s[2], s[3]]])
    end
    doc.close_path if line['closed']
    doc.stroke
  end
  page['words'].each { |w| doc.draw_text(w['words'], at: [w['x'], w['y']], size: w['size']) }
end
doc.render_file(ARGV[1])
