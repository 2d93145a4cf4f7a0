#include <string>

#include "report/page_parts.h"
#include "report/palette.h"

namespace loftbeat::report {
namespace {

constexpr const char* kLayout = R"(
*{box-sizing:border-box}
body{margin:0;background:var(--paper);color:var(--ink);
 font:16px/1.5 "Source Sans 3","Noto Sans","DejaVu Sans","Segoe UI",system-ui,sans-serif}
header,main,footer{max-width:62rem;margin:0 auto;padding:0 1rem}
header{padding-top:2rem;border-bottom:3px double var(--rule)}
h1,h2,h3{line-height:1.2;font-family:"Source Serif 4","Noto Serif","DejaVu Serif",Georgia,serif}
h1{font-size:2.1rem;margin:0 0 .3rem}
h2{font-size:1.35rem;margin:2.4rem 0 .5rem}
h3{font-size:1.02rem;margin:1.1rem 0 .15rem}
h3 small{font:400 .92rem/1.3 "Source Sans 3","Noto Sans","DejaVu Sans","Segoe UI",system-ui,sans-serif;
 color:var(--soft);margin-left:.6em}
p{margin:.35rem 0;max-width:52rem}header p{max-width:none}
.soft,figcaption,caption{color:var(--soft)}
.first li{margin:.45rem 0;max-width:46rem;font-size:1.08rem}
.first li::marker{font-weight:700;color:var(--behind)}
.glance{display:grid;grid-template-columns:repeat(auto-fit,minmax(15rem,1fr));gap:1rem;margin-top:1rem}
.glance>div{background:var(--card);border-left:5px solid var(--rule);padding:.7rem .9rem}
.glance h3{margin:0 0 .2rem}
.glance .answer{font-weight:700;font-size:1.1rem}
.glance ul{margin:.2rem 0;padding-left:1.1rem}
figure{margin:0}
svg{display:block;width:100%;height:auto;overflow:visible}
.narrow{display:none}
table{border-collapse:collapse;margin:.6rem 0 1rem;font-variant-numeric:tabular-nums}
caption{text-align:left;padding-bottom:.3rem}
td{white-space:nowrap}
th,td{padding:.25rem .7rem;text-align:right;border-bottom:1px solid var(--rule);font-weight:400}
thead th{vertical-align:bottom;font-size:.88rem;color:var(--soft)}
tbody th,th:first-child{text-align:left;white-space:nowrap}
td.raised{font-weight:700;color:var(--behind)}
.scroll{overflow-x:auto}
details{margin:.5rem 0}
summary{cursor:pointer;color:var(--soft);text-decoration:underline dotted}
summary:focus-visible,.scroll:focus-visible{outline:3px solid var(--ahead);outline-offset:2px}
dt{font-weight:700;margin-top:.5rem}
dd{margin:0 0 .3rem;max-width:46rem}
footer{margin-top:3rem;padding-bottom:2rem;border-top:3px double var(--rule)}
text{font:13px "Source Sans 3","Noto Sans","DejaVu Sans","Segoe UI",system-ui,sans-serif;fill:var(--ink)}
.narrow text{font-size:11px}.narrow text.breath{font-size:19px}
.halo{paint-order:stroke;stroke:var(--paper);stroke-width:5px}
text.breath{font-size:24px;font-weight:700}
text.soft{fill:var(--soft)} text.mid{text-anchor:middle} text.end{text-anchor:end}
text.sign{font-weight:700;fill:var(--behind)} text.bold{font-weight:700}
.phrase{fill:var(--card)} .bar{stroke:var(--rule);stroke-width:.5;opacity:.55}
.phraseline{stroke:var(--rule);stroke-width:1}
.set{stroke:var(--ink);stroke-width:1.4} .edge{stroke:var(--rule);stroke-width:.7;stroke-dasharray:1 4}
.behind{fill:url(#hatch)} .ahead{fill:url(#dots)}
.line{fill:none;stroke:var(--ink);stroke-width:1.8;stroke-linejoin:round}
.beat{fill:var(--ink)} .silent{fill:var(--paper);stroke:var(--ink);stroke-width:1}
.fringe{stroke:var(--ink);stroke-width:2}
.planned{fill:none;stroke:var(--ink);stroke-width:1.2;stroke-dasharray:5 3}
.entry{fill:var(--paper);stroke:var(--ink);stroke-width:1.4} .came{fill:var(--ink)}
.chord{fill:var(--sound)} .gap{stroke:var(--ink);stroke-width:1;stroke-dasharray:1 3}
.allowed{fill:url(#grain)} .miss{stroke:var(--behind);stroke-width:2.4}
.whisker{stroke:var(--ink);stroke-width:1.4}
.outline{fill:none;stroke:var(--ink);stroke-width:1.2} .dotted{fill:none;stroke:var(--ink);stroke-width:2;stroke-dasharray:1.5 4;stroke-linecap:round}
.key{color:var(--soft);max-width:none} svg.swatch{display:inline-block;width:1.4rem;height:.9rem;vertical-align:-.1em;margin:0 .35rem 0 .9rem} .key svg.swatch:first-child{margin-left:0}
.wrong{fill:var(--behind)} .missed{fill:var(--paper);stroke:var(--ink);stroke-width:1.3}
.hatchline{stroke:var(--behind);stroke-width:2.2} .dot{fill:var(--ahead)} .grainline{stroke:var(--rule);stroke-width:.5}
@media (max-width:640px){.wide{display:none}.narrow{display:block}h1{font-size:1.6rem}
 th,td{padding:.2rem .4rem;font-size:.88rem}}
@page{size:A4;margin:14mm 13mm}
)";

constexpr const char* kPrint = R"(
@media print{.wide{display:block}.narrow{display:none}
body{font-size:10pt;background:none;-webkit-print-color-adjust:exact;print-color-adjust:exact}
header,main,footer{max-width:none;padding:0}
h1{font-size:20pt}h2{font-size:13pt;margin-top:1.2rem;break-after:avoid}h3{break-after:avoid}
figure,.glance,.scroll,tr,li{break-inside:avoid}section>p.soft{break-after:avoid}.glance{grid-template-columns:repeat(3,1fr);gap:.6rem}.glance>div{padding:.4rem .6rem}text{font-size:15px}
.scroll{overflow:visible}details:not([open]){display:none}.first li{font-size:10.5pt}
th,td{padding:.15rem .5rem}}
)";

enum class Light { day, night };

std::string variables(Light light) {
  std::string css = ":root{";
  for (const Tint& tint : kTints) {
    css +=
        std::string("--") + tint.name + ":" + (light == Light::day ? tint.light : tint.dark) + ";";
  }
  return css + "}";
}

}  // namespace

std::string page_style() {
  return "<style>\n:root{color-scheme:light dark}\n" + variables(Light::day) +
         "\n@media screen and (prefers-color-scheme:dark){" + variables(Light::night) + "}" +
         kLayout + kPrint + "</style>\n";
}

std::string page_patterns() {
  return R"svg(<svg width="0" height="0" aria-hidden="true" style="position:absolute"><defs>
<pattern id="hatch" width="7" height="7" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><line x1="1.5" y1="0" x2="1.5" y2="7" class="hatchline"/></pattern>
<pattern id="dots" width="6" height="6" patternUnits="userSpaceOnUse"><circle cx="3" cy="3" r="1.7" class="dot"/></pattern>
<pattern id="grain" width="5" height="5" patternUnits="userSpaceOnUse"><line x1="0" y1="2.5" x2="5" y2="2.5" class="grainline"/></pattern>
</defs></svg>
)svg";
}

}  // namespace loftbeat::report
