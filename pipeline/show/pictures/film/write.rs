//! Frames as H.264, and those in an MP4 whose table of contents comes first, so that it plays while it is still loading.

use super::RATE;
use super::frame::Frame;
use base::model::Fault;
use openh264::encoder::{
    BitRate, Complexity, Encoder, EncoderConfig, FrameRate, FrameType, IntraFramePeriod, Profile, QpRange,
    RateControlMode, UsageType, VuiConfig,
};
use openh264::formats::YUVSlices;
use openh264::{OpenH264API, Timestamp};
use shiguredo_mp4::boxes::{Avc1Box, AvccBox, SampleEntry, VisualSampleEntryFields};
use shiguredo_mp4::mux::{Mp4FileMuxer, Mp4FileMuxerOptions, Sample, estimate_maximum_moov_box_size};
use shiguredo_mp4::{TrackKind, Uint};
use std::fmt::Display;
use std::num::NonZeroU32;

/// After so many frames one stands by itself, so that a player can go there: two seconds.
const ALONE: u32 = 2 * RATE;
/// The one step of the quantiser: fine rules and the grain of papers stay, where the coder's own 26 makes blocks of them. A film of
/// 1440 × 1080 takes a little under a megabyte.
const STEP: u8 = 18;
/// Bits a second, more than there will be.
const NO_LIMIT: u32 = 50_000_000;
/// Kinds of units (ITU-T H.264, table 7-1): what is told of the whole film, and of its pictures.
const OF_THE_FILM: u8 = 7;
const OF_PICTURES: u8 = 8;

/// A film on its way.
pub struct Writer {
    encoder: Encoder,
    size: (u16, u16),
    of_the_film: Vec<u8>,
    of_pictures: Vec<u8>,
    /// The frames one after another, each of its units behind its length.
    frames: Vec<u8>,
    /// Length of each frame in bytes, and whether it stands by itself.
    lengths: Vec<(usize, bool)>,
}

fn fail(why: impl Display) -> Fault {
    Fault::new(format!("the film could not be written: {why}"))
}

impl Writer {
    /// A film of frames of this size.
    ///
    /// # Errors
    /// A size that H.264 does not take.
    pub fn new(width: u32, height: u32) -> Result<Writer, Fault> {
        let side = |v: u32| u16::try_from(v).map_err(fail);
        // One quality throughout, and one thread: what a frame becomes never depends on the machine or on how long it takes.
        let config = EncoderConfig::new()
            .profile(Profile::Baseline)
            .usage_type(UsageType::CameraVideoRealTime)
            .complexity(Complexity::Low)
            .qp(QpRange::new(STEP, STEP))
            .bitrate(BitRate::from_bps(NO_LIMIT))
            .max_frame_rate(FrameRate::from_hz(RATE as f32))
            .rate_control_mode(RateControlMode::Bufferbased)
            .intra_frame_period(IntraFramePeriod::from_num_frames(ALONE))
            .skip_frames(false)
            .adaptive_quantization(false)
            .background_detection(false)
            .scene_change_detect(false)
            .num_threads(1)
            .vui(VuiConfig::bt709());
        let encoder = Encoder::with_api_config(OpenH264API::from_source(), config).map_err(fail)?;
        let size = (side(width)?, side(height)?);
        let (of_the_film, of_pictures, frames, lengths) = (Vec::new(), Vec::new(), Vec::new(), Vec::new());
        Ok(Writer { encoder, size, of_the_film, of_pictures, frames, lengths })
    }

    /// Adds a frame, which stands for a thirtieth of a second.
    ///
    /// # Errors
    /// A frame that could not be coded.
    pub fn add(&mut self, frame: &Frame) -> Result<(), Fault> {
        let planes = (&frame.luma[..], &frame.blue[..], &frame.red[..]);
        let picture = YUVSlices::new(planes, (frame.w, frame.h), (frame.w, frame.w / 2, frame.w / 2));
        let at = self.lengths.len() as u64 * 1000 / u64::from(RATE);
        let coded = self.encoder.encode_at(&picture, Timestamp::from_millis(at)).map_err(fail)?;
        let before = self.frames.len();
        for layer in (0..coded.num_layers()).filter_map(|i| coded.layer(i)) {
            for unit in (0..layer.nal_count()).filter_map(|i| layer.nal_unit(i)) {
                // A unit begins with two or three zeros and a one (ITU-T H.264, annex B).
                let Some(start) = unit.iter().position(|b| *b != 0) else { continue };
                let Some((kind, unit)) = unit.get(start + 1..).and_then(|u| Some((*u.first()? & 0x1f, u))) else {
                    continue;
                };
                match kind {
                    OF_THE_FILM => self.of_the_film = unit.to_vec(),
                    OF_PICTURES => self.of_pictures = unit.to_vec(),
                    _ => {
                        self.frames.extend(u32::try_from(unit.len()).map_err(fail)?.to_be_bytes());
                        self.frames.extend(unit);
                    }
                }
            }
        }
        if self.frames.len() == before {
            return Err(fail("a frame was left out"));
        }
        self.lengths.push((self.frames.len() - before, coded.frame_type() == FrameType::IDR));
        Ok(())
    }

    /// The file.
    ///
    /// # Errors
    /// A film without frames.
    pub fn finish(self) -> Result<Vec<u8>, Fault> {
        let [_, profile, compatible, level, ..] = self.of_the_film[..] else { return Err(fail("it has no frames")) };
        let options = Mp4FileMuxerOptions {
            reserved_moov_box_size: estimate_maximum_moov_box_size(&[self.lengths.len()]),
            ..Mp4FileMuxerOptions::default()
        };
        let mut muxer = Mp4FileMuxer::with_options(options).map_err(fail)?;
        let mut out = muxer.initial_boxes_bytes().to_vec();
        let mut entry = Some(SampleEntry::Avc1(Avc1Box {
            visual: VisualSampleEntryFields {
                data_reference_index: VisualSampleEntryFields::DEFAULT_DATA_REFERENCE_INDEX,
                width: self.size.0,
                height: self.size.1,
                horizresolution: VisualSampleEntryFields::DEFAULT_HORIZRESOLUTION,
                vertresolution: VisualSampleEntryFields::DEFAULT_VERTRESOLUTION,
                frame_count: VisualSampleEntryFields::DEFAULT_FRAME_COUNT,
                compressorname: VisualSampleEntryFields::NULL_COMPRESSORNAME,
                depth: VisualSampleEntryFields::DEFAULT_DEPTH,
            },
            avcc_box: AvccBox {
                avc_profile_indication: profile,
                profile_compatibility: compatible,
                avc_level_indication: level,
                length_size_minus_one: Uint::new(3),
                sps_list: vec![self.of_the_film],
                pps_list: vec![self.of_pictures],
                chroma_format: None,
                bit_depth_luma_minus8: None,
                bit_depth_chroma_minus8: None,
                sps_ext_list: Vec::new(),
            },
            unknown_boxes: Vec::new(),
        }));
        let mut at = out.len() as u64;
        for (length, alone) in self.lengths {
            let sample = Sample {
                track_kind: TrackKind::Video,
                sample_entry: entry.take(),
                keyframe: alone,
                timescale: NonZeroU32::MIN.saturating_add(RATE - 1),
                duration: 1,
                composition_time_offset: None,
                data_offset: at,
                data_size: length,
            };
            muxer.append_sample(&sample).map_err(fail)?;
            at += length as u64;
        }
        out.extend(self.frames);
        for (offset, bytes) in muxer.finalize().map_err(fail)?.offset_and_bytes_pairs() {
            let from = usize::try_from(offset).map_err(fail)?;
            if out.len() < from + bytes.len() {
                out.resize(from + bytes.len(), 0);
            }
            out[from..from + bytes.len()].copy_from_slice(bytes);
        }
        Ok(out)
    }
}
