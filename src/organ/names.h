#pragma once

// Private to organ/: names as people write them.

#include <string>
#include <string_view>

namespace loftbeat::organ {

// Lower case, one space between words, no primes, no spaces at the ends; bytes beyond ASCII stay,
// but for the primes U+2032 and U+2019. " Great  Open diapason 8' " -> "great open diapason 8".
[[nodiscard]] std::string plain(std::string_view name);

}  // namespace loftbeat::organ
