#include "search/prove.hpp"

#include <algorithm>
#include <atomic>
#include <cmath>
#include <queue>

#include "search/effort.hpp"
#include "search/prove_rows.hpp"

namespace trammel::search {
namespace {

using math::Interval;

/// Boxes that are judged side by side: all of them belong to one step, whatever the number of threads.
constexpr std::size_t boxes_a_step = 256;

/// A box that keeps more than this share of its volume is not judged again before it is split.
constexpr double worth_another_look = 0.5;
constexpr int most_looks = 4;
/// One in so many generations of boxes is looked at closely, of boxes whose sides are less than this on average: in
/// larger ones most targets are not known at all.
constexpr int boxes_a_close_look = 4;
constexpr double small_side = 0.12;

/// With so many boxes waiting a proof ends: they would take more memory than a search may.
constexpr std::size_t most_waiting = 2000000;

double volume_of(const VariableBox& box) {
  double out = 1.0;
  for (const Interval& side : box) out *= side.hi - side.lo;
  return out;
}

/// What became of a box.
struct Judged {
  std::vector<VariableBox> halves;         ///< none where nothing is left of it
  std::vector<std::pair<int, double>> by;  ///< number of a must, volume that it dropped
  int looks = 0;
};

/// Judges boxes one after the other. Per-task workspace.
class Judging {
 public:
  explicit Judging(std::unique_ptr<BoxJudge> judge) : judge_(std::move(judge)) {}

  const std::vector<Must>& musts() const { return judge_->musts(); }

  Judged judge(VariableBox box, int depth) {
    Judged out;
    const bool small = volume_of(box) < std::pow(small_side, static_cast<double>(box.size()));
    const bool closely = small && depth % boxes_a_close_look == boxes_a_close_look - 1;
    for (int look = 0; look < most_looks; ++look) {
      ++out.looks;
      const double before = volume_of(box);
      const int broken = judge_->judge(box, closely, rows_);
      if (broken >= 0) {
        out.by.emplace_back(broken, before);
        return out;
      }
      const RowsLeave leave = solver_.solve(rows_);
      const int by = leave.because.empty() ? 0 : main_reason(leave);
      if (leave.empty) {
        out.by.emplace_back(by, before);
        return out;
      }
      cut(leave, box);
      const double after = volume_of(box);
      if (after < before) out.by.emplace_back(by, before - after);
      if (after > worth_another_look * before) break;
    }
    split(box, out);
    return out;
  }

 private:
  /// The must that weighs most in a reason.
  int main_reason(const RowsLeave& leave) const {
    std::vector<double> weights(judge_->musts().size(), 0.0);
    for (const RowWeight& w : leave.because) weights[rows_.rows[w.row].must] += w.weight;
    return static_cast<int>(std::max_element(weights.begin(), weights.end()) - weights.begin());
  }

  /// What is left of a box, its ends moved outward.
  static void cut(const RowsLeave& leave, VariableBox& box) {
    for (std::size_t i = 0; i < box.size(); ++i) {
      const Interval side = box[i];
      const double middle = side.middle(), half = std::max(side.hi - middle, middle - side.lo) * (1.0 + 1e-12) + 1e-16;
      if (leave.lo[i] > -1.0) box[i].lo = std::max(side.lo, middle + leave.lo[i] * half - 1e-15);
      if (leave.hi[i] < 1.0) box[i].hi = std::min(side.hi, middle + leave.hi[i] * half + 1e-15);
      if (!(box[i].lo < box[i].hi)) box[i] = side;
    }
  }

  /// Across the variable that the rows depend on most, each row's share counted, and the more the nearer the row is to
  /// being decided by what is linear in it: of one that is not known at all its slopes tell little. The power was
  /// chosen by trying on shipped briefs: 57 % of the trail bike's volume is dropped within 6,000 boxes, without it 38
  /// %. (Trombettoni, Araya, Neveu & Chabert, Inner regions and interval linearizations for global optimization, AAAI
  /// 2011; from memory).
  void split(const VariableBox& box, Judged& out) {
    std::vector<double> smear(box.size(), 0.0);
    for (std::size_t k = 0; k < rows_.rows.size(); ++k) {
      const auto slopes = rows_.slopes_of(k);
      double sum = 0.0;
      for (const double slope : slopes) sum += std::abs(slope);
      const double sharp = std::pow(sum / (sum + std::abs(rows_.rows[k].b)), 1.5);
      for (std::size_t i = 0; i < box.size(); ++i) smear[i] += sharp * std::abs(slopes[i]) / sum;
    }
    std::size_t widest = 0, across = 0;
    for (std::size_t i = 0; i < box.size(); ++i) {
      if (box[i].hi - box[i].lo > box[widest].hi - box[widest].lo) widest = i;
      if (smear[i] > smear[across]) across = i;
    }
    const auto width = [&](std::size_t i) { return box[i].hi - box[i].lo; };
    // No side gets much longer than the others: what is left then is not small.
    if (smear[across] == 0.0 || width(across) < 0.03 * width(widest)) across = widest;
    const double at = box[across].middle();
    out.halves.assign(2, box);
    out.halves[0][across].hi = at;
    out.halves[1][across].lo = at;
  }

  std::unique_ptr<BoxJudge> judge_;
  ProofRows rows_;
  RowSolver solver_;
};

struct Waiting {
  double volume = 0.0;
  std::int64_t number = 0;
  int depth = 0;  ///< how often it has been split
  VariableBox box;
};
bool later(const Waiting& a, const Waiting& b) {
  return a.volume != b.volume ? a.volume < b.volume : a.number > b.number;
}

class Proof {
 public:
  Proof(const Setup& setup, int choice, const ProofOptions& options, const std::function<bool()>& stop)
      : options_(options), stop_(stop) {
    part_.choice = choice;
    for (int i = 0; i < std::max(1, options.threads); ++i) {
      auto judge = make_box_judge(setup, choice);
      if (!judge) break;
      judging_.emplace_back(std::move(judge));
    }
    part_.judged = !judging_.empty();
    VariableBox all(static_cast<std::size_t>(setup.design.size()), Interval(0.0, 1.0));
    waiting_.push_back({1.0, 0, 0, all});
  }

  ProofPart run() {
    if (part_.judged) {
      shares_.assign(judging_.front().musts().size(), 0.0);
      while (!waiting_.empty() && waiting_.size() < most_waiting && part_.boxes < options_.boxes && !stop_()) step();
    }
    finish();
    return std::move(part_);
  }

 private:
  void step() {
    std::vector<Waiting> now;
    const auto room = static_cast<std::size_t>(options_.boxes - part_.boxes);
    while (!waiting_.empty() && now.size() < std::min(boxes_a_step, room)) {
      std::pop_heap(waiting_.begin(), waiting_.end(), later);
      now.push_back(std::move(waiting_.back()));
      waiting_.pop_back();
    }
    std::vector<Judged> judged(now.size());
    std::atomic<std::size_t> next{0};
    Effort{options_.threads}.each("", judging_.size(), [&](std::size_t own) {
      for (std::size_t i = next++; i < now.size(); i = next++)
        judged[i] = judging_[own].judge(now[i].box, now[i].depth);
    });
    for (std::size_t i = 0; i < judged.size(); ++i) {
      const Judged& one = judged[i];
      part_.boxes += one.looks;
      for (const auto& [must, volume] : one.by) shares_[static_cast<std::size_t>(must)] += volume;
      for (const VariableBox& half : one.halves) {
        waiting_.push_back({volume_of(half), ++number_, now[i].depth + 1, half});
        std::push_heap(waiting_.begin(), waiting_.end(), later);
      }
    }
  }

  void finish() {
    std::sort(waiting_.begin(), waiting_.end(), [](const Waiting& a, const Waiting& b) { return later(b, a); });
    part_.left = 0.0;
    for (Waiting& one : waiting_) {
      part_.left += one.volume;
      if (part_.hull.empty()) part_.hull = one.box;
      for (std::size_t i = 0; i < one.box.size(); ++i) part_.hull[i] = math::hull(part_.hull[i], one.box[i]);
      part_.boxes_left.push_back(std::move(one.box));
    }
    if (!part_.judged) return;
    for (std::size_t m = 0; m < shares_.size(); ++m)
      if (shares_[m] > 0.0) part_.musts.push_back({judging_.front().musts()[m], shares_[m]});
    std::stable_sort(part_.musts.begin(), part_.musts.end(),
                     [](const MustShare& a, const MustShare& b) { return a.share > b.share; });
  }

  ProofOptions options_;
  const std::function<bool()>& stop_;
  std::vector<Judging> judging_;
  std::vector<Waiting> waiting_;
  std::int64_t number_ = 0;
  std::vector<double> shares_;
  ProofPart part_;
};

}  // namespace

std::vector<ProofPart> prove(const Setup& setup, const ProofOptions& options, const std::function<bool(double)>& stop) {
  std::vector<std::pair<std::int64_t, int>> parts;
  for (std::int64_t l = 0; l < setup.linkage_count(); ++l)
    for (int choice = 0; choice < setup.of(l).design.choices(); ++choice) parts.emplace_back(l, choice);
  std::vector<ProofPart> out;
  for (const auto& [linkage, choice] : parts) {
    const double share = static_cast<double>(out.size() + 1) / static_cast<double>(parts.size());
    const std::function<bool()> stop_now = [&stop, share] { return stop(share); };
    out.push_back(Proof(setup.of(linkage), choice, options, stop_now).run());
    out.back().linkage = linkage;
  }
  return out;
}

math::Interval in_unit(const Variable& variable, const math::Interval& part) {
  return {variable.at(part.lo), variable.at(part.hi)};
}

}  // namespace trammel::search
