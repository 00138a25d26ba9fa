#pragma once
// The seven rungs of the chain, from a seed to a plant that counts. They stand here once: files, checks, the season and
// the printed plan take their names, their order and when they apply from this table.
#include <array>
#include <cstddef>
#include <string_view>

namespace strikebed::growth {

/// In the order of the chain.
enum class Rung { germination, standing, usable, take, weaning, winter, grade };

/// The stage at which plants are counted, each later than the one before.
enum class CountAt { rooted, weaned, established };
inline constexpr std::array<std::string_view, 3> kCountAtNames{"rooted", "weaned", "established"};
constexpr std::string_view name_of(CountAt count_at) { return kCountAtNames[static_cast<std::size_t>(count_at)]; }

/// What is handled alike and differs from the next by one batch effect.
enum class BatchUnit { sowing, session, session_and_method, season, method };

/// When it is decided who passes a rung.
enum class Moment {
  emergence,       ///< the seedling's own
  before_window,   ///< spread over the days from emergence, most of them in the first weeks
  session,         ///< the one it is offered at; who is passed over does not come back
  rooting,         ///< the cutting's own
  end_of_weaning,  ///< the cutting's own
  spring,          ///< after the first winter
  counting,        ///< who fails is kept, not counted
};

/// A rung: of those it takes, a share becomes what comes next. Nothing is lost twice.
struct RungRow {
  Rung rung;
  std::string_view name;    ///< as in files, and in print
  std::string_view of;      ///< what it is a share of
  std::string_view become;  ///< who has passed it
  BatchUnit batch_unit;
  Moment moment;
  CountAt from;  ///< the earliest stage of counting for which it matters

  /// Each method of striking has its own, and all wants share the others: it is the same grower and the same bench.
  [[nodiscard]] constexpr bool is_of_method() const {
    return batch_unit == BatchUnit::session_and_method || batch_unit == BatchUnit::method;
  }
};

inline constexpr std::array<RungRow, 7> kRungs{{
    {Rung::germination, "germination", "seeds sown", "emerged, given warmth enough", BatchUnit::sowing,
     Moment::emergence, CountAt::rooted},
    {Rung::standing, "standing", "emerged", "alive when their window opens", BatchUnit::sowing, Moment::before_window,
     CountAt::rooted},
    {Rung::usable, "usable", "offered at a session", "struck: good enough", BatchUnit::session, Moment::session,
     CountAt::rooted},
    {Rung::take, "take", "struck", "rooted", BatchUnit::session_and_method, Moment::rooting, CountAt::rooted},
    {Rung::weaning, "weaning", "rooted", "weaned: in open air and sun", BatchUnit::session, Moment::end_of_weaning,
     CountAt::weaned},
    {Rung::winter, "winter", "weaned", "alive after the first winter", BatchUnit::season, Moment::spring,
     CountAt::established},
    {Rung::grade, "grade", "alive when counted", "counted: foot good enough", BatchUnit::method, Moment::counting,
     CountAt::rooted},
}};

constexpr std::size_t index_of(Rung rung) { return static_cast<std::size_t>(rung); }
constexpr const RungRow& row_of(Rung rung) { return kRungs[index_of(rung)]; }
constexpr std::string_view name_of(Rung rung) { return row_of(rung).name; }
/// Whether plants counted at this stage have the rung behind them.
constexpr bool applies(Rung rung, CountAt count_at) { return count_at >= row_of(rung).from; }

/// One of each rung.
template <class T>
class PerRung {
 public:
  constexpr T& operator[](Rung rung) { return of_[index_of(rung)]; }
  constexpr const T& operator[](Rung rung) const { return of_[index_of(rung)]; }
  bool operator==(const PerRung&) const = default;

 private:
  std::array<T, kRungs.size()> of_{};
};

}  // namespace strikebed::growth
