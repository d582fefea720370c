#include "report/embedded.hpp"

#include "brief/embed.hpp"

namespace trammel::report::embedded {

TRAMMEL_EMBED(echarts, "third_party/echarts.min.js")
TRAMMEL_EMBED(echarts_licence, "third_party/LICENSE")
TRAMMEL_EMBED(zrender_licence, "third_party/LICENSE.zrender")
TRAMMEL_EMBED(d3_licence, "third_party/LICENSE.d3")
TRAMMEL_EMBED(echarts_notice, "third_party/NOTICE")
TRAMMEL_EMBED(style, "engine/report/page/sheet.css")
TRAMMEL_EMBED(index_script, "engine/report/page/index.js")
TRAMMEL_EMBED(shortlist_script, "engine/report/page/shortlist.js")
TRAMMEL_EMBED(scroll_script, "engine/report/page/scroll.js")
TRAMMEL_EMBED(preview_script, "engine/report/page/preview.js")
TRAMMEL_EMBED(scene_script, "engine/report/page/scene.js")
TRAMMEL_EMBED(motion_script, "engine/report/page/motion.js")
TRAMMEL_EMBED(curves_script, "engine/report/page/curves.js")
TRAMMEL_EMBED(beside_script, "engine/report/page/beside.js")
TRAMMEL_EMBED(live_parts, "engine/report/page/live/parts.js")
TRAMMEL_EMBED(live_kernel, "engine/report/page/live/kernel.js")
TRAMMEL_EMBED(live_curves, "engine/report/page/live/curves.js")
TRAMMEL_EMBED(live_targets, "engine/report/page/live/targets.js")
TRAMMEL_EMBED(live_points, "engine/report/page/live/points.js")
TRAMMEL_EMBED(live_cases, "engine/report/page/live/cases.js")
TRAMMEL_EMBED(live_main, "engine/report/page/live/main.js")
#ifdef TRAMMEL_MODULE
TRAMMEL_EMBED_FILE(module, TRAMMEL_MODULE)
#else
std::string_view module() {
  return {};
}
#endif
TRAMMEL_EMBED(picture_body, "engine/report/page/picture/body.html")
TRAMMEL_EMBED(picture_style, "engine/report/page/picture/picture.css")
TRAMMEL_EMBED(picture_law, "engine/report/page/picture/law.js")
TRAMMEL_EMBED(picture_state, "engine/report/page/picture/state.js")
TRAMMEL_EMBED(picture_figures, "engine/report/page/picture/figures.js")
TRAMMEL_EMBED(picture_layout, "engine/report/page/picture/layout.js")
TRAMMEL_EMBED(picture_draw, "engine/report/page/picture/draw.js")
TRAMMEL_EMBED(picture_stage, "engine/report/page/picture/stage.js")
TRAMMEL_EMBED(picture_parts, "engine/report/page/picture/parts.js")
TRAMMEL_EMBED(picture_panel, "engine/report/page/picture/panel.js")
TRAMMEL_EMBED(picture_main, "engine/report/page/picture/main.js")

}  // namespace trammel::report::embedded
