#include "practice/hymn_index.h"

#include <gtest/gtest.h>

#include "some_hymns.h"

namespace loftbeat::practice {
namespace {

TEST(HymnIndex, IsReadBackAsItWas) {
  for (std::uint64_t seed = 0; seed < 300; ++seed) {
    const HymnIndex index = some_index(seed);
    const auto back = parse_hymn_index(format_hymn_index(index), "i");
    ASSERT_TRUE(back) << seed << to_string(back.error());
    EXPECT_EQ(*back, index) << seed;
  }
}

TEST(HymnIndex, CutAnywhereItIsDamaged) {
  const std::string text = format_hymn_index(some_index(7));
  for (std::size_t size = 0; size < text.size(); ++size) {
    const auto back = parse_hymn_index(std::string_view(text).substr(0, size), "i");
    ASSERT_FALSE(back) << size;
  }
}

TEST(HymnIndex, AnyChangedByteIsFound) {
  const std::string text = format_hymn_index(some_index(11));
  for (std::size_t at = 0; at < text.size(); ++at) {
    std::string changed = text;
    changed[at] = static_cast<char>(changed[at] ^ 1);
    ASSERT_FALSE(parse_hymn_index(changed, "i")) << at;
  }
}

TEST(HymnIndex, AnotherVersionIsTold) {
  std::string text = format_hymn_index(some_index(3));
  const std::string version = "\t" + std::to_string(kHymnIndexVersion) + "\n";
  text.replace(text.find(version), version.size(),
               "\t" + std::to_string(kHymnIndexVersion + 1) + "\n");
  const auto back = parse_hymn_index(text, "i");
  ASSERT_FALSE(back);
  EXPECT_EQ(back.error().kind, ErrorKind::wrong_use);
  const auto other = parse_hymn_index("something else\n", "i");
  ASSERT_FALSE(other);
  EXPECT_EQ(other.error().kind, ErrorKind::unreadable);
}

}  // namespace
}  // namespace loftbeat::practice
