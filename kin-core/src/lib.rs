//! Suspension kinematics in three dimensions.
