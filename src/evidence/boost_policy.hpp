#pragma once
// How Boost.Math computes here: in double precision, so that the answer is the same where long double is something else
// (and three times sooner), and without exceptions: what cannot be computed is not finite.
#include <boost/math/policies/policy.hpp>

namespace strikebed::evidence {

using BoostPolicy =
    boost::math::policies::policy<boost::math::policies::domain_error<boost::math::policies::ignore_error>,
                                  boost::math::policies::pole_error<boost::math::policies::ignore_error>,
                                  boost::math::policies::overflow_error<boost::math::policies::ignore_error>,
                                  boost::math::policies::evaluation_error<boost::math::policies::ignore_error>,
                                  boost::math::policies::rounding_error<boost::math::policies::ignore_error>,
                                  boost::math::policies::promote_double<false>>;

}  // namespace strikebed::evidence
