# perl pdf_api2.pl PAGES.json OUT.pdf: pages as PDF::API2 writes them.
use strict;
use warnings;
use JSON::PP;
use PDF::API2;
local $/;
open my $in, '<', $ARGV[0] or die $!;
my $pages = decode_json(<$in>);
my $pdf = PDF::API2->new();
my $font = $pdf->corefont('Helvetica');
for my $page (@$pages) {
    my $out = $pdf->page();
    $out->mediabox(0, 0, $page->{wide}, $page->{tall});
    my $g = $out->gfx();
    for my $line (@{$page->{lines}}) {
        $g->save();
        $g->linewidth($line->{width});
        $g->strokecolor(sprintf '#%02x%02x%02x', map { int(255 * $_ + 0.5) } @{$line->{rgb}});
        $g->linedash(@{$line->{dash}}) if @{$line->{dash}};
        $g->move(@{$line->{start}});
        for my $s (@{$line->{steps}}) { @$s == 2 ? $g->line(@$s) : $g->curve(@$s) }
        $g->close() if $line->{closed};
        $g->stroke();
        $g->restore();
    }
    my $t = $out->text();
    for my $w (@{$page->{words}}) {
        $t->font($font, $w->{size});
        $t->translate($w->{x}, $w->{y});
        $t->text($w->{words});
    }
}
$pdf->saveas($ARGV[1]);
