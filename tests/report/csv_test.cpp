#include "report/csv.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "fixture.hpp"
#include "report/csv_form.hpp"
#include "report/write.hpp"

using namespace trammel;

TEST_CASE("fields are quoted as RFC 4180 section 2 says") {
  CHECK(report::csv_record({"a", "", "c d"}) == "a,,c d\r\n");
  CHECK(report::csv_record({"a,b", "say \"x\"", "two\r\nlines"}) == "\"a,b\",\"say \"\"x\"\"\",\"two\r\nlines\"\r\n");
}

TEST_CASE("for a decimal comma numbers change, and what parts fields, and nothing else") {
  using report::TableForm;
  const std::string table = report::csv_record({"x_mm", "chosen shock", "1.5", "-2e-05"}) +
                            report::csv_record({"", "210 × 52.5", "1.5 mm", "a;b,c \"1.5\""}) +
                            report::csv_record({"0.1", "7", "=1.5", "two\r\nlines, 3.5"}) + report::csv_record({""});
  CHECK(report::in_form(table, TableForm::commas) == table);
  CHECK(report::in_form(table, TableForm::semicolons) ==
        "x_mm;chosen shock;1,5;-2e-05\r\n;210 × 52.5;1.5 mm;\"a;b,c \"\"1.5\"\"\"\r\n"
        "0,1;7;'=1.5;\"two\r\nlines, 3.5\"\r\n\r\n");
}

TEST_CASE("curve columns come in the file's order whatever the table's") {
  auto sheet = test::invented_sheet(test::invented_layout(), 3);
  auto& columns = sheet.motion.table.columns;
  const std::string expected =
      "shock_mm,travel_mm,axle_x_mm,axle_y_mm,leverage,chainstay_mm,chainstay_growth_mm,ic_x_mm,ic_y_mm,pitch_deg,"
      "wheelbase_mm,bb_height_mm,cg_height_mm,anti_rise_pct,chain_growth_mm[32x18],kickback_deg[32x18],"
      "anti_squat_pct[32x18],chain_growth_mm[32x28],kickback_deg[32x28],anti_squat_pct[32x28],chain_growth_mm[32x50],"
      "kickback_deg[32x50],anti_squat_pct[32x50],shock_force_n,wheel_force_n,wheel_rate_n_mm\r\n";
  const auto header = [&] {
    const std::string csv = report::curves_csv(sheet.motion.table);
    return csv.substr(0, csv.find('\n') + 1);
  };
  CHECK(header() == expected);
  std::reverse(columns.begin(), columns.end());
  CHECK(header() == expected);
}

TEST_CASE("absent and meaningless values are empty cells") {
  bike::CurveTable table;
  table.columns.push_back({{bike::Curve::travel}, "travel_mm", {0.0, 1.5, 3.0, 4.5}});
  table.columns.push_back({{bike::Curve::ic_x}, "ic_x_mm", {std::nullopt, -0.25, std::nan(""), INFINITY}});
  CHECK(report::curves_csv(table) == "travel_mm,ic_x_mm\r\n0,\r\n1.5,-0.25\r\n3,\r\n4.5,\r\n");
}

TEST_CASE("the shortlist has a column for every target and every varied value") {
  const std::string csv = report::shortlist_csv(test::invented_study());
  CHECK(
      csv.substr(0, csv.find('\r')) ==
      "rank,id,score,margin,musts_met,climbing [%],calm pedals [°],leverage over travel,progressivity,braking [%],"
      "static height [mm],main.x [mm],main.y [mm],stay.y [mm],mount.angle [°],must_margin,wish_margin,remarks,summary");
  CHECK(std::count(csv.begin(), csv.end(), '\n') == 5);
}
