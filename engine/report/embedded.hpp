// Files that the program carries inside itself, so that it stays one file.
#pragma once

#include <string_view>

namespace trammel::report::embedded {

std::string_view echarts();          ///< the chart library, minified JavaScript
std::string_view echarts_licence();  ///< its licence …
std::string_view zrender_licence();  ///< … and those of what it contains
std::string_view d3_licence();
std::string_view echarts_notice();    ///< its notice, which must stay beside every copy
std::string_view style();             ///< the pages' style sheet
std::string_view index_script();      ///< the charts of index.html
std::string_view shortlist_script();  ///< sorting and choosing among its rows
std::string_view scroll_script();     ///< what is wider than its box scrolls by keys, too
std::string_view preview_script();    ///< a small moving drawing of the layout that a link leads to
std::string_view scene_script();      ///< shapes of a scene, for the two that draw some
std::string_view module();            ///< the kernel for that, WebAssembly as gzip packs it; nothing in a build without
std::string_view curves_script();     ///< more curves in its figures
std::string_view beside_script();     ///< another layout beside it
std::string_view motion_script();     ///< the moving drawing of a layout's page

// Moving a layout's pivots in its page, in parts, each of which uses those before it.
std::string_view live_parts();    ///< tables and files
std::string_view live_kernel();   ///< what the module answers
std::string_view live_curves();   ///< in the page's figures
std::string_view live_targets();  ///< and packaging
std::string_view live_points();   ///< table and rings
std::string_view live_cases();    ///< settings and sizes
std::string_view live_main();

// The page on which points are read off a picture: what it shows, and its script in parts, each of which uses those
// before it.
std::string_view picture_body();     ///< its sections, HTML
std::string_view picture_style();    ///< beside the pages' own style sheet
std::string_view picture_law();      ///< from pixels to millimetres
std::string_view picture_state();    ///< what was placed and entered, undo
std::string_view picture_figures();  ///< what follows from it, and what is missing
std::string_view picture_layout();   ///< the layout file
std::string_view picture_draw();     ///< picture, marks and lines
std::string_view picture_stage();    ///< zoom, lens, mouse and keys
std::string_view picture_parts();    ///< pieces of forms
std::string_view picture_panel();    ///< tables and forms
std::string_view picture_main();     ///< loading, saving

}  // namespace trammel::report::embedded
