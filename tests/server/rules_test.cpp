// What is decided without a connection: names, paths, rates, compressing.
#include <gtest/gtest.h>

#include "server/address_rules.hpp"
#include "server/gzip.hpp"
#include "server/page.hpp"
#include "server/rate_limit.hpp"
#include "server/target.hpp"
#include "tests/server/running_service.hpp"
#include "tests/server/unpacked.hpp"

namespace strikebed::server {
namespace {

TEST(OwnHost, IsThisMachineWithThePort) {
  for (const char* host : {"localhost:8417", "LOCALHOST:8417", "127.0.0.1:8417", "[::1]:8417"}) {
    EXPECT_TRUE(is_own_host(host, 8417, {})) << host;
  }
  for (const char* host : {"", "localhost", "127.0.0.1", "localhost:8418", "localhost:8417.evil.example", "::1:8417",
                           "evil.example:8417", "127.0.0.1.evil.example:8417", "localhost:08417", " localhost:8417"}) {
    EXPECT_FALSE(is_own_host(host, 8417, {})) << host;
  }
  EXPECT_TRUE(is_own_host("localhost", 80, {}));
}

TEST(OwnHost, IsANameThatWasGivenWithAnyPort) {
  const std::vector<std::string> names{"Tray.example"};
  for (const char* host : {"tray.example", "tray.example:443", "TRAY.example:8443"}) {
    EXPECT_TRUE(is_own_host(host, 8417, names)) << host;
  }
  for (const char* host :
       {"tray.example:", "tray.example:x", "a.tray.example", "tray.example.evil", "tray.example@x:1"}) {
    EXPECT_FALSE(is_own_host(host, 8417, names)) << host;
  }
}

TEST(SameOrigin, IsTheSameHostOverHttpOrHttps) {
  EXPECT_TRUE(is_same_origin("http://localhost:8417", "localhost:8417"));
  EXPECT_TRUE(is_same_origin("https://tray.example", "Tray.example"));
  for (const char* origin : {"null", "", "http://localhost", "http://127.0.0.1:8417", "http://localhost:8417/",
                             "ftp://localhost:8417", "http://evil.example"}) {
    EXPECT_FALSE(is_same_origin(origin, "localhost:8417")) << origin;
  }
}

TEST(PathOf, DecodesStrictly) {
  EXPECT_EQ(path_of("/"), "/");
  EXPECT_EQ(path_of("/a%20b.txt?x=%zz"), "/a b.txt");
  EXPECT_EQ(path_of("/%C3%A4"), "/\xC3\xA4");
  EXPECT_EQ(path_of("/../etc/passwd"), "/../etc/passwd") << "only ever compared";
  for (const char* target : {"", "*", "a", "http://localhost/", "/%", "/%4", "/%4g", "/%00", "/%2f", "/%2F", "/%5c",
                             "/a#b", "/a b", "/\xC3\xA4", "/%0a", "/%7f"}) {
    EXPECT_EQ(path_of(target), std::nullopt) << target;
  }
}

TEST(RateLimit, FillsByItself) {
  using namespace std::chrono_literals;
  RateLimit rate({.each_second = 10, .at_once = 3});
  const RateLimit::Time begin{};
  for (int i = 0; i < 3; ++i) EXPECT_TRUE(rate.allows("a", begin));
  EXPECT_FALSE(rate.allows("a", begin));
  EXPECT_TRUE(rate.allows("b", begin)) << "each address has its own";
  EXPECT_FALSE(rate.allows("a", begin + 50ms));
  EXPECT_TRUE(rate.allows("a", begin + 150ms));
  EXPECT_FALSE(rate.allows("a", begin + 150ms));
  for (int i = 0; i < 3; ++i) EXPECT_TRUE(rate.allows("a", begin + 1h)) << "no more than it holds";
  EXPECT_FALSE(rate.allows("a", begin + 1h));
}

TEST(RateLimit, ForgetsWhoHasNotAskedForLong) {
  using namespace std::chrono_literals;
  RateLimit rate({.each_second = 10, .at_once = 3});
  for (int i = 0; i < 1000; ++i) EXPECT_TRUE(rate.allows(std::to_string(i), RateLimit::Time{} + 90s));
  EXPECT_EQ(rate.remembered(), 1000U);
  EXPECT_TRUE(rate.allows("last", RateLimit::Time{} + 200s));
  EXPECT_EQ(rate.remembered(), 1U);
}

TEST(Gzip, ComesBack) {
  for (const std::string& bytes : {std::string(), std::string("a"), std::string(100'000, 'x'), kScript}) {
    EXPECT_EQ(unpacked(gzipped(bytes)), bytes);
    EXPECT_EQ(gzipped(bytes), gzipped(bytes));
  }
}

TEST(Gzip, IsAcceptedByName) {
  for (const char* accepted : {"gzip", "br, gzip", "GZIP;q=0.5", "deflate , gzip ; q=1"}) {
    EXPECT_TRUE(accepts_gzip(accepted)) << accepted;
  }
  for (const char* refused : {"", "br", "gzip;q=0", "gzip; q=0.000", "x-gzip", "*", "gzip;q=", "gzip;level=9"}) {
    EXPECT_FALSE(accepts_gzip(refused)) << refused;
  }
}

TEST(Matches, TagsOfAList) {
  for (const char* list : {"\"a\"", "W/\"a\"", "\"b\", \"a\"", "*", " \"a\" "})
    EXPECT_TRUE(matches(list, "\"a\"")) << list;
  for (const char* list : {"", "a", "\"b\"", "\"a", "\"aa\""}) EXPECT_FALSE(matches(list, "\"a\"")) << list;
}

TEST(Page, SaysWhatIsWrongWithItsFolder) {
  const host::TemporaryFolder folder;
  const auto problem = [&](const std::string& name) {
    const auto page = Page::read(folder.path(name));
    return page ? std::string() : page.error().problem;
  };
  write(folder.path("empty/nothing.txt"), "x");
  std::filesystem::create_directories(folder.path("odd/index.html"));
  EXPECT_EQ(problem("none"), "there is no such folder");
  EXPECT_EQ(problem("empty/nothing.txt"), "this is no folder");
  EXPECT_EQ(problem("empty"), "this folder holds no index.html");
  EXPECT_EQ(problem("odd"), "its index.html is no file");
  make_page(folder);
  EXPECT_EQ(problem("page"), "");
  EXPECT_EQ(problem("page/"), "");
}

}  // namespace
}  // namespace strikebed::server
